"""Copying a log into memory, each record changed on the way: a log that was never saved to."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from gearlog.domain.settings import Settings
from gearlog.errors import StorageError
from gearlog.storage import loading
from gearlog.storage.lines import Row, plain, written
from gearlog.storage.locations import LogFiles
from gearlog.storage.opening import Opened, read_log
from gearlog.storage.store import Session, Store


def memory_copy(source: Path, change: Callable[[Row], Row], *, now: Callable[[], datetime]) -> Store:
    """The log in ``source`` as a log in memory, each row passed through ``change``; ``source`` is only read.

    The copy has no history: nothing in it can be undone. Raises StorageError.
    """
    try:
        with loading.quiet():
            read = read_log(LogFiles(source))
            tables = {
                name: {key: written(change(plain(row))) for key, row in rows.items()}
                for name, rows in read.tables.items()
            }
    except OSError as error:
        raise StorageError(f"the log in {source} cannot be read: {error.strerror or error}") from error
    return Store(Session(None, None, None, now), Opened(tables, read.n), Settings(), tuple(read.notices))
