"""The store: the one door through which records, settings and their history are read and saved."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from threading import RLock
from types import TracebackType
from typing import Any, Self, TypeVar, cast

from gearlog.domain.record import Record
from gearlog.domain.settings import Settings
from gearlog.errors import ReadOnlyError, StorageError
from gearlog.storage import history, loading
from gearlog.storage import settings as settings_file
from gearlog.storage.codec import TABLES, Shelf, fault_notice, to_row
from gearlog.storage.disk import ReaderDisk, WriterDisk
from gearlog.storage.journal import JournalDB, JournalStorage, JournalTable
from gearlog.storage.lines import Change, Line, Row
from gearlog.storage.locations import LogFiles
from gearlog.storage.lock import SessionLock
from gearlog.storage.opening import Opened

R = TypeVar("R", bound=Record)


@dataclass(frozen=True, slots=True)
class Session:
    """What a store stands on.

    Attributes:
        files: the names of the log's files; None in memory.
        disk: where saves go; None in memory.
        lock: the lock of the session, when it is ours.
        now: the clock, in UTC.
    """

    files: LogFiles | None
    disk: WriterDisk | ReaderDisk | None
    lock: SessionLock | None
    now: Callable[[], datetime]


class Store:
    """The records and settings of one log.

    Attributes:
        read_only: whether saving is refused.
        version: grows with every change of a record.
        settings: what the program remembers about its user.
    """

    def __init__(self, session: Session, opened: Opened, settings: Settings, notices: tuple[str, ...]) -> None:
        self._session = session
        self._guard = RLock()
        self._notices = notices
        self._closed = False
        self._last: tuple[int, str | None] | None = None
        self.read_only = isinstance(session.disk, ReaderDisk)
        self.version = 0
        self.settings = settings
        self._take(opened)

    @property
    def folder(self) -> Path | None:
        """The log's folder, or None for a log in memory."""
        return self._session.files.folder if self._session.files else None

    @property
    def notices(self) -> tuple[str, ...]:
        """What was found on opening, and records that do not read, in the user's words."""
        with self._guard, loading.quiet():
            faults = [fault_notice(shelf, self._log.rows(TABLES[shelf.kind])) for shelf in self._shelves.values()]
        return (*self._notices, *self._found, *filter(None, faults))

    def records(self, kind: type[R]) -> tuple[R, ...]:
        """All records of a kind, in order of creation."""
        with self._guard, loading.quiet():
            return self._shelf(kind).records()

    def get(self, kind: type[R], identity: str) -> R | None:
        """The record of that id, or None."""
        with self._guard, loading.quiet():
            return self._shelf(kind).get(identity)

    def save(self, *records: Record, label: str) -> None:
        """Save records, new or changed, all of them or none; they are on the disk when this returns.

        ``label`` says in the user's words what was done. Raises ReadOnlyError, StorageError.
        """
        with self._guard:
            self._must_write()
            rows = self._rows_of(records)
            self._keep(lambda: self._put(rows, label))

    def undo(self) -> str | None:
        """Take back the last change and return its label; None when there is none to take back."""
        with self._guard:
            self._must_write()
            line = history.to_undo(self._past())
            if line is None or not self._stands(line.changes):
                return None
            self._keep(lambda: self._log.commit(_inverse(line), line.label, undoes=line.n))
            return line.label

    def redo(self) -> str | None:
        """Do again what was taken back last and return its label; None once something new was saved."""
        with self._guard:
            self._must_write()
            line = history.to_redo(self._past())
            if line is None or not self._stands(line.changes):
                return None
            self._keep(lambda: self._log.commit(_inverse(line), line.label, redoes=line.undoes))
            return line.label

    def last_change(self) -> str | None:
        """The label of the change that ``undo`` would take back, or None."""
        with self._guard:
            if self._last is None or self._last[0] != self.version:
                line = history.to_undo(self._past())
                stands = line is not None and self._stands(line.changes)
                self._last = (self.version, line.label if line is not None and stands else None)
            return self._last[1]

    def refresh(self) -> bool:
        """Follow the program that writes, where this one only reads; whether anything was new.

        Raises StorageError when the log can no longer be read.
        """
        disk = self._session.disk
        if not isinstance(disk, ReaderDisk):
            return False
        with self._guard, loading.quiet():
            try:
                if not disk.changed():
                    return False
                self._take(disk.open())
            except OSError as error:
                raise StorageError(f"the log in {self.folder} cannot be read again: {error.strerror}") from error
            self.version += 1
            return True

    def save_settings(self, settings: Settings) -> None:
        """Keep settings; a read-only log keeps them for the session only. Raises StorageError."""
        with self._guard:
            self.settings = settings
            if self._session.files is None or self.read_only:
                return
            try:
                settings_file.save(self._session.files.settings, settings)
            except OSError as error:
                raise StorageError(f"the settings cannot be saved in {self.folder}: {error.strerror}") from error

    def close(self) -> None:
        """Fold the journal and let the log go; what was saved is safe whether or not this is called."""
        with self._guard:
            if self._closed:
                return
            self._closed = self.read_only = True
            if isinstance(self._session.disk, WriterDisk):
                if self._log.lines:
                    self._fold(self._session.disk)
                self._session.disk.close()
            if self._session.lock is not None:
                self._session.lock.release()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def _take(self, opened: Opened) -> None:
        """Stand on what was read from the disk."""
        disk = self._session.disk
        self._log = JournalStorage(disk.append if isinstance(disk, WriterDisk) else _nowhere, self._session.now)
        self._log.tables, self._log.n, self._log.lines = opened.tables, opened.n, opened.lines
        self._db = JournalDB(storage=lambda: self._log)
        self._shelves: dict[str, Shelf[Any]] = {}
        for kind, name in TABLES.items():
            self._shelves[name] = Shelf(kind, lambda name=name: self._log.rows(name))  # type: ignore[misc]
        self._found = tuple(opened.notices)
        self._last = None

    def _shelf(self, kind: type[R]) -> Shelf[R]:
        return cast("Shelf[R]", self._shelves[TABLES[kind]])

    def _must_write(self) -> None:
        if self.read_only:
            raise ReadOnlyError(
                "nothing was saved: the log is open read-only; close the other program and open it again"
            )

    def _rows_of(self, records: tuple[Record, ...]) -> dict[str, list[tuple[str | None, Row]]]:
        """By table, the number (None for a new one) and the row; fields that are not ours stay in it."""
        rows: dict[str, dict[str, tuple[str | None, Row]]] = {}
        for record in records:
            name = TABLES[type(record)]
            key = self._shelves[name].key_of(record.id)
            old = self._log.rows(name)[key] if key is not None else {}
            rows.setdefault(name, {})[record.id] = key, {**old, **to_row(record)}
        return {name: list(by_id.values()) for name, by_id in rows.items()}

    def _put(self, rows: dict[str, list[tuple[str | None, Row]]], label: str) -> None:
        with self._log.one_save(label):
            for name, numbered in rows.items():
                cast("JournalTable", self._db.table(name)).put(numbered)

    def _keep(self, change: Callable[[], object]) -> None:
        """Make one change; after a failure stand on what the disk holds."""
        before = len(self._log.lines)
        try:
            change()
        except OSError as error:
            raise StorageError(self._read_again(error)) from error
        for line in self._log.lines[before:]:
            self.version += 1
            for altered in line.changes:
                if altered.table in self._shelves:
                    self._shelves[altered.table].follow(altered)
        disk = self._session.disk
        if isinstance(disk, WriterDisk) and disk.due_to_fold:
            self._fold(disk)

    def _read_again(self, error: OSError) -> str:
        disk = self._session.disk
        said = f"not saved: {error.strerror or error}"
        try:
            if isinstance(disk, WriterDisk):
                self._take(disk.read_again())
                self.read_only = not disk.sound
        except (OSError, StorageError):
            self.read_only = True
        self.version += 1
        if self.read_only:
            return f"{said}; what was saved before is safe. Close gearlog, mend the disk and open the log again"
        return f"{said}; what was saved before is safe. Make room or mend the disk, then save again"

    def _fold(self, disk: WriterDisk) -> None:
        """Fold, if the disk lets us; the journal holds everything where it does not."""
        with suppress(OSError):
            disk.fold(self._log.tables, self._log.n)
            self._log.lines = []

    def _past(self) -> Any:
        files = self._session.files
        return history.backwards(self._log.lines, files.history if files else None)

    def _stands(self, changes: tuple[Change, ...]) -> bool:
        """Whether the records still are as these changes left them."""
        return all(self._log.rows(change.table).get(change.key) == change.after for change in changes)


def _inverse(line: Line) -> tuple[Change, ...]:
    return tuple(change.inverse() for change in reversed(line.changes))


def _nowhere(data: bytes) -> None:
    """Where the lines of a log in memory go."""
