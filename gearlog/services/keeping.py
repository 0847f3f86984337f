"""Keeping a whole log: into one file, back from it, and whether it is sound."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from gearlog.errors import StorageError
from gearlog.services.clock import utc_now
from gearlog.storage import Store, log_folder, open_store
from gearlog.storage.locations import LogFiles
from gearlog.units.quoting import quoted

if TYPE_CHECKING:
    from gearlog.domain.verified import Verified


class Keeping:
    """Backups of one open log."""

    def __init__(self, store: Store, now: Callable[[], datetime]) -> None:
        self._store = store
        self._now = now

    def backup(self, target: Path, *, over: bool = False) -> Verified:
        """Put the whole log, photos included, into one file, written whole or not at all and read again.

        Raises StorageError, also for a log that lives in memory only.
        """
        folder = self._store.folder
        if folder is None:
            raise StorageError("the sample is a throw-away copy; back up a log of your own, see --log")
        from gearlog.storage import archive

        return archive.write(folder, target, self._now, over=over)


def verify(file: Path) -> Verified:
    """What is in a backup and what is wrong with it; raises StorageError where it cannot be read at all."""
    from gearlog.storage import archive_reading

    return archive_reading.verify(file)


def restore(file: Path, folder: Path) -> Verified:
    """Put the log of a backup into a new or empty folder: all of it or none; raises StorageError."""
    from gearlog.storage import archive_reading

    return archive_reading.restore(file, folder)


def check(folder: Path | None) -> tuple[Path, tuple[str, ...]]:
    """The folder of a log and what is wrong with it, a line each; nothing is changed.

    Raises StorageError where there is no log or it cannot be read.
    """
    from gearlog.services.checking import faults_in

    place = log_folder(folder, os.environ)
    files = LogFiles(place)
    try:
        if not (files.snapshot.exists() or files.journal.exists()):
            raise StorageError(f"there is no log in {quoted(str(place))}; name its folder, for example: --log my-log")
        with open_store(place, now=utc_now, read_only=True) as store:
            return place, (*store.notices, *faults_in(store))
    except OSError as error:
        what = quoted(str(error.filename or place))
        raise StorageError(
            f"{what} cannot be read: {error.strerror or error}; make it readable, then check again"
        ) from error
