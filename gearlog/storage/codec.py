"""The door between rows and records: what goes in reads back the same, what comes out is frozen."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from typing import Any, Generic, TypeVar

import msgspec

from gearlog.domain.bench import Bench, BenchStand
from gearlog.domain.event import Event
from gearlog.domain.inspection import Inspection
from gearlog.domain.item import Item
from gearlog.domain.kit import Kit
from gearlog.domain.record import Record, from_text, to_text
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import StrengthTest
from gearlog.errors import InvalidRecordError, StorageError
from gearlog.storage.lines import NO_ROW, Change, RowText, plain

R = TypeVar("R", bound=Record)
Head = TypeVar("Head", bound=msgspec.Struct)

MOST_TOLD = 3
"""So many damaged rows are told one by one in a notice."""

TABLES: dict[type[Record], str] = {
    Item: "items",
    Splice: "splices",
    Event: "events",
    Bench: "benches",
    BenchStand: "bench_stands",
    StrengthTest: "strength_tests",
    Inspection: "inspections",
    Kit: "kits",
}
"""In which table records of a kind lie."""
WORDS = {
    "items": "piece of gear",
    "splices": "splice",
    "events": "entry in the history",
    "benches": "splice at the bench",
    "bench_stands": "stand at the bench",
    "strength_tests": "test of strength",
    "inspections": "inspection",
    "kits": "kit",
}
"""What a row of a table is called when it does not read."""


def to_row(record: Record) -> tuple[RowText, Record]:
    """The record as a row, and as it reads back; raises StorageError for one that would not read back the same."""
    try:
        row = RowText(to_text(record))
        again = from_text(type(record), row)
    except (ValueError, msgspec.MsgspecError, InvalidRecordError) as error:
        raise StorageError(_unsavable(record, str(error))) from error
    if again != record:
        raise StorageError(_unsavable(record, "a number in it is not a number"))
    return row, again


def _unsavable(record: Record, reason: str) -> str:
    return f"this {WORDS[TABLES[type(record)]]} cannot be saved: {reason}; nothing was changed"


class Shelf(Generic[R]):
    """The records of one table, read from their rows on first use and kept up with every change.

    Attributes:
        kind: what they are.
        faults: rows that do not read, by document number, with the reason.
    """

    def __init__(self, kind: type[R], rows: Callable[[], dict[str, RowText]]) -> None:
        self.kind = kind
        self.faults: dict[str, str] = {}
        self._rows = rows
        self._records: dict[str, R] | None = None
        self._keys: dict[str, str] | None = None
        self._tuple: tuple[R, ...] | None = None

    def records(self) -> tuple[R, ...]:
        """All that read, in order of creation."""
        if self._tuple is None:
            self._tuple = tuple(self._read().values())
        return self._tuple

    @property
    def is_read(self) -> bool:
        """Whether the records are at hand."""
        return self._records is not None

    def heads(self, head: type[Head]) -> list[Head]:
        """Some fields of every record, in order of creation; rows in which these do not read are left out."""
        found: list[Head] = []
        for row in self._rows().values():
            with suppress(InvalidRecordError):
                found.append(from_text(head, row))
        return found

    def copy(self) -> Shelf[R]:
        """A shelf of the rows as they are now, to be read apart from this one."""
        rows = dict(self._rows())
        return Shelf(self.kind, lambda: rows)

    def take_over(self, apart: Shelf[R]) -> None:
        """Take the records of a copy for one's own; the rows are still those that were copied."""
        if self._records is None:
            self._records, self.faults = apart._read(), apart.faults

    def get(self, identity: str) -> R | None:
        """The record of that id, or None."""
        key = self.key_of(identity)
        if key is None:
            return None
        if self._records is not None:
            return self._records.get(key)
        alone: dict[str, R] = {}
        self._place(alone, key, self._rows()[key])
        return alone.get(key)

    def key_of(self, identity: str) -> str | None:
        """The document number of the row with that id, whether it reads or not."""
        if self._keys is None:
            self._keys = self._found_keys()
        return self._keys.get(identity)

    def _found_keys(self) -> dict[str, str]:
        """Ids of records that were read are at hand; the others are looked up in their rows."""
        read = self._records or {}
        return {read[key].id if key in read else _id_of(row): key for key, row in self._rows().items()}

    def follow(self, change: Change, record: R | None = None) -> None:
        """Take over a change that was saved; ``record`` is what its row says, where that is at hand."""
        if self._keys is not None:
            self._follow_key(self._keys, change, record)
        if self._records is None:
            return
        self._tuple = None
        self.faults.pop(change.key, None)
        if record is not None:
            self._records[change.key] = record
        elif change.after == NO_ROW:
            self._records.pop(change.key, None)
        else:
            self._place(self._records, change.key, change.after)

    def _follow_key(self, keys: dict[str, str], change: Change, record: R | None) -> None:
        if change.before != NO_ROW:
            keys.pop(_id_of(change.before), None)
        if change.after != NO_ROW:
            keys[record.id if record is not None else _id_of(change.after)] = change.key

    def _read(self) -> dict[str, R]:
        if self._records is None:
            self._records = {}
            for key, row in self._rows().items():
                self._place(self._records, key, row)
        return self._records

    def _place(self, records: dict[str, R], key: str, row: RowText) -> None:
        try:
            records[key] = from_text(self.kind, row)
        except InvalidRecordError as error:
            records.pop(key, None)
            self.faults[key] = error.message


class _Named(msgspec.Struct):
    """What of a row tells which one it is; the rest of it is passed over."""

    id: Any = ""


_to_named = msgspec.json.Decoder(_Named).decode


def _id_of(row: RowText) -> str:
    try:
        return str(_to_named(row).id)
    except (ValueError, msgspec.MsgspecError):
        return ""


def fault_notice(shelf: Shelf[R], rows: dict[str, RowText]) -> str:
    """What to tell about the rows of a shelf that do not read; empty when all do."""
    shelf.records()
    if not shelf.faults:
        return ""
    name = WORDS[TABLES[shelf.kind]]
    told = [f"{_called(rows.get(key, NO_ROW), key)}: {reason}" for key, reason in shelf.faults.items()]
    more = f" | and {len(told) - MOST_TOLD} more" if len(told) > MOST_TOLD else ""
    return (
        f"{len(told)} x {name} in the log cannot be read and is not in the lists; nothing of it was removed from "
        f"the file: {' | '.join(told[:MOST_TOLD])}{more}"
    )


def _called(text: RowText, key: str) -> str:
    row = plain(text)
    return str(row.get("tag") or row.get("name") or f"number {key}")
