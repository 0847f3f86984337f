"""Copying a log whole, each record changed on the way: a new log that was never saved to."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from gearlog.errors import StorageError
from gearlog.storage import durable, lines, snapshot
from gearlog.storage.lines import Line, Row
from gearlog.storage.locations import LogFiles
from gearlog.storage.migrations import FORMAT
from gearlog.storage.opening import read_log


def copy_log(source: Path, target: Path, change: Callable[[Row], Row]) -> None:
    """Write the log in ``source``, each row passed through ``change``, into the empty folder ``target``.

    The copy has no history: nothing in it can be undone. ``source`` is only read. Raises StorageError.
    """
    files = LogFiles(target)
    try:
        opened = read_log(LogFiles(source))
        tables = {name: {key: change(row) for key, row in rows.items()} for name, rows in opened.tables.items()}
        data = snapshot.encode(tables, opened.n)
        heading = Line(n=opened.n, at=datetime.now(UTC).isoformat(), snapshot=lines.checksum(data), format=FORMAT)
        durable.write_whole(files.snapshot, data)
        durable.write_whole(files.journal, lines.encode(heading)[0])
    except OSError as error:
        raise StorageError(f"the log in {source} cannot be copied: {error.strerror or error}") from error
