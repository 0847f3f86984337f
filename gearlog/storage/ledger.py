"""The ledger: the records of an open log, and the changes made to them one durable line at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from datetime import datetime
from itertools import islice
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar, cast

from gearlog.domain.done import Done
from gearlog.domain.record import Record
from gearlog.errors import StorageError
from gearlog.storage import history
from gearlog.storage.codec import TABLES, Shelf, fault_notice, to_row
from gearlog.storage.disk import WriterDisk
from gearlog.storage.journal import JournalDB, JournalStorage, JournalTable
from gearlog.storage.lines import NO_ROW, Change, Line, RowText, alike, clean, plain
from gearlog.storage.opening import Opened

R = TypeVar("R", bound=Record)

NumberedRows = dict[str, list[tuple[str | None, RowText]]]
"""By table, each row with its document number, None for a new one."""
Known = Mapping[bytes, Record]
"""What rows say that were just written, so that they need not be read again."""
NOTHING_KNOWN: Known = MappingProxyType({})


class Ledger:
    """Records in memory that only change once the change is on the disk.

    Attributes:
        version: grows with every change.
        sound: False once the disk failed so that nothing more can be saved.
    """

    def __init__(self, disk: WriterDisk | None, past: Path | None, now: Callable[[], datetime]) -> None:
        """``past`` is the folder of earlier journals; without ``disk`` the ledger lives in memory."""
        self._disk = disk
        self._past_folder = past
        self._now = now
        self._last: tuple[int, str | None] | None = None
        self.version = 0
        self.sound = True
        self.take(Opened())

    def take(self, opened: Opened) -> None:
        """Stand on what was read from the disk."""
        log = JournalStorage(self._disk.append if self._disk else _nowhere, self._now)
        log.tables, log.n, log.lines = opened.tables, opened.n, opened.lines
        self._log = log
        self._db = JournalDB(storage=lambda: log)
        self._shelves = {name: Shelf[Any](kind, _rows_of(log, name)) for kind, name in TABLES.items()}
        self._found = tuple(opened.notices)
        self.version += 1

    def follow(self, lines: list[Line]) -> bool:
        """Take over saves of another program; False when they do not join on to what is known."""
        if [line.n for line in lines] != list(range(self._log.n + 1, self._log.n + 1 + len(lines))):
            return False
        for line in lines:
            self._log.follow(line)
            self._follow(line)
        return True

    def shelf(self, kind: type[R]) -> Shelf[R]:
        """The records of a kind."""
        return cast("Shelf[R]", self._shelves[TABLES[kind]])

    @property
    def found(self) -> tuple[str, ...]:
        """What was found on opening."""
        return self._found

    def notices(self) -> tuple[str, ...]:
        """What was found on opening, and which records do not read."""
        faults = [fault_notice(shelf, self._log.rows(name)) for name, shelf in self._shelves.items()]
        return (*self._found, *filter(None, faults))

    def save(self, records: tuple[Record, ...], label: str) -> None:
        """Save records in one line; raises StorageError with nothing changed."""
        rows, known = self._rows_for(records)
        self._keep(lambda: self._put(rows, label), known)

    def undo(self) -> str | None:
        """Take back the last change that stands; its label, or None."""
        line = self._standing(history.to_undo)
        if line is None:
            return None
        self._keep(lambda: self._log.commit(_inverse(line), line.label, undoes=line.n))
        return line.label

    def redo(self) -> str | None:
        """Do again what was taken back last; its label, or None once something new was saved."""
        line = self._standing(history.to_redo)
        if line is None:
            return None
        self._keep(lambda: self._log.commit(_inverse(line), line.label, redoes=line.undoes))
        return line.label

    def last_change(self) -> str | None:
        """The label of what ``undo`` would take back."""
        if self._last is None or self._last[0] != self.version:
            line = self._standing(history.to_undo)
            self._last = (self.version, line.label if line is not None else None)
        return self._last[1]

    def done(self, most: int) -> tuple[Done, ...]:
        """The last changes that stand, the newest first."""
        found = history.standing(history.backwards(self._log.lines, self._past_folder))
        return tuple(Done(line.at, line.label) for line in islice(found, most))

    def fold(self) -> None:
        """Fold the journal, if the disk lets us; the journal holds everything where it does not."""
        if self._disk is None or not self._log.lines:
            return
        with suppress(OSError):
            self._disk.fold(self._log.tables, self._log.n)
            self._log.lines = []

    def _rows_for(self, records: tuple[Record, ...]) -> tuple[NumberedRows, Known]:
        """The records as rows, and what these say; what else stands in a row of the file stays in it."""
        known: dict[bytes, Record] = {}
        rows: dict[str, dict[str, tuple[str | None, RowText]]] = {}
        for record in records:
            name = TABLES[type(record)]
            key = self._shelves[name].key_of(record.id)
            row, again = to_row(record)
            known[bytes(row)] = again
            rows.setdefault(name, {})[record.id] = key, _over(self._log.rows(name).get(key or "", NO_ROW), row)
        return {name: list(by_id.values()) for name, by_id in rows.items()}, known

    def _put(self, rows: NumberedRows, label: str) -> None:
        with self._log.one_save(label):
            for name, numbered in rows.items():
                cast("JournalTable", self._db.table(name)).put(numbered)

    def _keep(self, change: Callable[[], object], known: Known = NOTHING_KNOWN) -> None:
        """Make one change; after a failure of the disk stand on what it holds."""
        before = len(self._log.lines)
        try:
            change()
        except OSError as error:
            self._read_again()
            raise StorageError(self._not_saved(error)) from error
        for line in self._log.lines[before:]:
            self._follow(line, known)
        if self._disk is not None and self._disk.due_to_fold:
            self.fold()

    def _follow(self, line: Line, known: Known = NOTHING_KNOWN) -> None:
        self.version += 1
        for change in line.changes:
            if change.table in self._shelves:
                self._shelves[change.table].follow(change, known.get(bytes(change.after)))

    def _read_again(self) -> None:
        """Stand on what the disk holds; on what is known, where nothing can be read or written any more."""
        if self._disk is None:
            return
        if not self._disk.sound:
            self.sound = False
            return
        try:
            self.take(self._disk.read_again())
            self.sound = self._disk.sound
        except (OSError, StorageError):
            self.sound = False

    def _not_saved(self, error: OSError) -> str:
        safe = "" if self._disk is not None and self._disk.gone else "everything saved before is safe: "
        remedy = "make room or mend the disk, then save again" if self.sound else self._way_out
        return f"not saved: {error.strerror or error}; {safe}{remedy}"

    @property
    def stopped_because(self) -> str:
        """Why nothing more can be saved, and what to do."""
        trouble = "the log is not in its place" if self._disk is not None and self._disk.gone else "the disk failed"
        return f"{trouble}; {self._way_out}"

    @property
    def _way_out(self) -> str:
        if self._disk is not None and self._disk.gone:
            return "put the folder back or find where it is now, close gearlog and open the log there"
        return "close gearlog, mend the disk and open the log again"

    def _standing(self, choose: Callable[[Iterator[Line]], Line | None]) -> Line | None:
        """The line that ``choose`` finds in the past, if the records still are as it left them."""
        line = choose(history.backwards(self._log.lines, self._past_folder))
        if line is None:
            return None
        as_left = all(
            alike(self._log.rows(change.table).get(change.key, NO_ROW), change.after) for change in line.changes
        )
        return line if as_left else None


def _rows_of(log: JournalStorage, name: str) -> Callable[[], dict[str, RowText]]:
    return lambda: log.rows(name)


def _over(old: RowText, new: RowText) -> RowText:
    """The new row; what else stands in the row of the file, as a later program may have put there, stays in it."""
    if old == NO_ROW:
        return new
    before, after = plain(old), plain(new)
    return new if before.keys() <= after.keys() else clean({**before, **after})


def _inverse(line: Line) -> tuple[Change, ...]:
    return tuple(change.inverse() for change in reversed(line.changes))


def _nowhere(data: bytes) -> None:
    """Where the lines of a log in memory go."""
