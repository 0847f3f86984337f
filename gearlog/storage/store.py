"""The store: the one door through which records, settings and their history are read and saved."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from threading import RLock
from types import TracebackType
from typing import ClassVar, Self, TypeVar

import msgspec

from gearlog.domain.done import Done
from gearlog.domain.record import Record
from gearlog.domain.settings import Settings
from gearlog.errors import ReadOnlyError, StorageError
from gearlog.storage import loading
from gearlog.storage import settings as settings_file
from gearlog.storage.codec import TABLES
from gearlog.storage.disk import ReaderDisk, WriterDisk
from gearlog.storage.ledger import Ledger
from gearlog.storage.locations import LogFiles
from gearlog.storage.lock import SessionLock
from gearlog.storage.opening import Opened

R = TypeVar("R", bound=Record)
Head = TypeVar("Head", bound=msgspec.Struct)


class Session(msgspec.Struct, frozen=True):
    """What a store stands on.

    Attributes:
        files: the names of the log's files; None in memory.
        disk: where saves go; None in memory.
        lock: the lock of the session, when it is ours.
        now: the clock, in UTC.
        reading_because: of a log that is only read, why, and what to do to write.
    """

    files: LogFiles | None
    disk: WriterDisk | ReaderDisk | None
    lock: SessionLock | None
    now: Callable[[], datetime]
    reading_because: str = ""


class Store:
    """The records and settings of one log.

    Attributes:
        settings: what the program remembers about its user.
        KINDS: the kinds of records that there are.
    """

    KINDS: ClassVar = tuple(TABLES)

    def __init__(self, session: Session, opened: Opened, settings: Settings, notices: tuple[str, ...]) -> None:
        files, disk = session.files, session.disk
        self._session = session
        self._guard = RLock()
        self._notices = notices
        self._closed = False
        self._ledger = Ledger(
            disk if isinstance(disk, WriterDisk) else None, files.history if files else None, session.now
        )
        self._ledger.take(opened)
        self.settings = settings

    @property
    def folder(self) -> Path | None:
        """The log's folder, or None for a log in memory."""
        return self._session.files.folder if self._session.files else None

    @property
    def read_only(self) -> bool:
        """Whether saving is refused."""
        return self._closed or isinstance(self._session.disk, ReaderDisk) or not self._ledger.sound

    @property
    def version(self) -> int:
        """A number that grows with every change of a record."""
        return self._ledger.version

    @property
    def found(self) -> tuple[str, ...]:
        """What was found on opening, in the user's words; no record is read for it."""
        return (*self._notices, *self._ledger.found)

    @property
    def notices(self) -> tuple[str, ...]:
        """What was found on opening, and records that do not read, in the user's words."""
        with self._guard, loading.quiet():
            return (*self._notices, *self._ledger.notices())

    def records(self, kind: type[R]) -> tuple[R, ...]:
        """All records of a kind, in order of creation."""
        with self._guard, loading.quiet():
            return self._ledger.shelf(kind).records()

    def read(self) -> None:
        """Read every record."""
        with self._guard, loading.quiet():
            for kind in self.KINDS:
                self._ledger.shelf(kind).records()

    def has_read(self, kind: type[R]) -> bool:
        """Whether the records of a kind are at hand, so that asking for them takes no time."""
        with self._guard:
            return self._ledger.shelf(kind).is_read

    def heads(self, kind: type[R], head: type[Head]) -> tuple[Head, ...]:
        """The fields that ``head`` names of every record of a kind, in order of creation; the rest is not read."""
        with self._guard, loading.quiet():
            return tuple(self._ledger.shelf(kind).heads(head))

    def read_ahead(self, kind: type[R]) -> None:
        """Read the records of a kind while others go on using the log; nothing is kept of it if they change it."""
        with self._guard:
            version, shelf = self._ledger.version, self._ledger.shelf(kind)
            apart = shelf.copy()
        with loading.quiet():
            apart.records()
        with self._guard:
            if self._ledger.version == version:
                shelf.take_over(apart)

    def get(self, kind: type[R], identity: str) -> R | None:
        """The record of that id, or None."""
        with self._guard, loading.quiet():
            return self._ledger.shelf(kind).get(identity)

    def save(self, *records: Record, label: str) -> None:
        """Save records, new or changed, all of them or none; they are on the disk when this returns.

        ``label`` says in the user's words what was done. Raises ReadOnlyError, StorageError.
        """
        with self._guard:
            self._must_write()
            self._ledger.save(records, label)

    def undo(self) -> str | None:
        """Take back the last change and return its label; None when there is none to take back.

        Raises ReadOnlyError, StorageError.
        """
        with self._guard:
            self._must_write()
            return self._ledger.undo()

    def redo(self) -> str | None:
        """Do again what was taken back last and return its label; None once something new was saved.

        Raises ReadOnlyError, StorageError.
        """
        with self._guard:
            self._must_write()
            return self._ledger.redo()

    def last_change(self) -> str | None:
        """The label of the change that ``undo`` would take back, or None."""
        with self._guard:
            return self._ledger.last_change()

    def done(self, most: int) -> tuple[Done, ...]:
        """The last changes that ``undo`` would take back one by one, the newest first."""
        with self._guard:
            return self._ledger.done(most)

    def refresh(self) -> bool:
        """Follow the program that writes, where this one only reads; whether anything was new.

        Raises StorageError when the log can no longer be read.
        """
        disk = self._session.disk
        if not isinstance(disk, ReaderDisk):
            return False
        with self._guard, loading.quiet():
            try:
                return disk.changed() and self._catch_up(disk)
            except OSError as error:
                raise StorageError(f"the log in {self.folder} cannot be read again: {error.strerror}") from error

    def _catch_up(self, disk: ReaderDisk) -> bool:
        before = self._ledger.version
        news = disk.new_lines()
        if news is None or not self._ledger.follow(news):
            self._ledger.take(disk.open())
        return self._ledger.version != before

    def save_settings(self, settings: Settings) -> None:
        """Keep settings; a read-only log keeps them for the session only. Raises StorageError."""
        with self._guard:
            self.settings = settings
            if self._session.files is None or self.read_only:
                return
            try:
                settings_file.save(self._session.files.settings, settings)
            except (OSError, ValueError) as error:
                reason = getattr(error, "strerror", None) or error
                raise StorageError(f"the settings cannot be saved in {self.folder}: {reason}") from error

    def close(self) -> None:
        """Fold the journal and let the log go; what was saved is safe whether or not this is called."""
        with self._guard:
            if self._closed:
                return
            self._closed = True
            if isinstance(self._session.disk, WriterDisk):
                self._ledger.fold()
                self._session.disk.close()
            if self._session.lock is not None:
                self._session.lock.release()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def _must_write(self) -> None:
        if not self.read_only:
            return
        reason = self._session.reading_because
        if self._closed:
            reason = "the log is closed; open it again"
        elif not self._ledger.sound:
            reason = self._ledger.stopped_because
        raise ReadOnlyError(f"nothing was saved: {reason}")
