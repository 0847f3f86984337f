"""Opening a log: as its one writer, or read-only beside another program."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

import msgspec

from gearlog.domain.settings import Settings
from gearlog.errors import StorageError
from gearlog.storage import durable, loading
from gearlog.storage import settings as settings_file
from gearlog.storage.disk import ReaderDisk, WriterDisk
from gearlog.storage.locations import LogFiles
from gearlog.storage.lock import SessionLock, holder_of
from gearlog.storage.opening import Opened
from gearlog.storage.store import Session, Store


def utc_now() -> datetime:
    """This moment in UTC."""
    return datetime.now(UTC)


def memory_store(*, now: Callable[[], datetime] = utc_now) -> Store:
    """An empty log that leaves nothing on the disk."""
    return Store(Session(None, None, None, now), Opened(), Settings(), ())


OTHER_PROGRAM = "another program has the log open; close that one, then open the log here again"
UNWRITABLE = "the folder of the log cannot be written; make it writable, then open the log again"
ONLY_READ = "the log was opened only to be read; open it to write"


def open_store(folder: Path, *, now: Callable[[], datetime] = utc_now, read_only: bool = False) -> Store:
    """Open the log in ``folder``, making it where there is none.

    Opens read-only, with a notice, where another program holds it or the folder cannot be written; with
    ``read_only`` no lock is asked for and no file is touched. Raises StorageError when the log is of a newer
    format or cannot be read.
    """
    files = LogFiles(folder)
    try:
        with loading.quiet():
            return _open_to_read(files, now, ONLY_READ) if read_only else _open(files, now)
    except OSError as error:
        raise StorageError(f"the log in {folder} cannot be opened: {error.strerror or error}") from error


class Glance(msgspec.Struct, frozen=True):
    """What can be told of a log before it is open.

    Attributes:
        name: the name of its folder.
        settings: what it remembers of its user.
        bytes: how long its files are.
    """

    name: str = ""
    settings: Settings = Settings()
    bytes: int = 0


def glance(folder: Path) -> Glance:
    """Look at a log without opening it; nothing is told of one that cannot be looked at."""
    files = LogFiles(folder)
    size = 0
    for path in (files.snapshot, files.journal):
        with suppress(OSError):
            size += path.stat().st_size
    return Glance(folder.name, settings_file.load(files.settings)[0], size)


def _open(files: LogFiles, now: Callable[[], datetime]) -> Store:
    lock = SessionLock(files)
    try:
        durable.make_folder(files.folder)
        if not lock.take(now()):
            return _open_to_read(files, now, OTHER_PROGRAM, _held(files))
        return _open_to_write(files, now, lock)
    except OSError as error:
        lock.release()
        return _open_to_read(files, now, UNWRITABLE, _unwritable(files, error))
    except BaseException:
        lock.release()
        raise


def _open_to_write(files: LogFiles, now: Callable[[], datetime], lock: SessionLock) -> Store:
    disk = WriterDisk(files, now)
    opened = disk.open()
    settings, damaged = settings_file.load(files.settings)
    notices: tuple[str, ...] = ()
    if damaged is not None:
        settings_file.put_aside(files.settings, damaged, now())
        notices = (settings_file.DAMAGED,)
    return Store(Session(files, disk, lock, now), opened, settings, notices)


def _open_to_read(files: LogFiles, now: Callable[[], datetime], because: str, *notices: str) -> Store:
    disk = ReaderDisk(files)
    settings, damaged = settings_file.load(files.settings)
    if damaged is not None:
        notices = (*notices, settings_file.DAMAGED)
    return Store(Session(files, disk, None, now, because), disk.open(), settings, notices)


def _held(files: LogFiles) -> str:
    holder = holder_of(files)
    who = f" ({holder})" if holder else ""
    return (
        f"The log is open in another program{who}, so it was opened read-only here: nothing can be saved, and "
        f"what the other program saves is shown after a refresh."
    )


def _unwritable(files: LogFiles, error: OSError) -> str:
    return (
        f"The folder {files.folder} cannot be written ({error.strerror or error}), so the log was opened "
        f"read-only: nothing can be saved."
    )
