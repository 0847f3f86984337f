"""The content digest: one number that is the same for two lists exactly when they list the same records.

Canonical form, so that anybody can compute it anew: every listed record as one line of JSON, its keys in the order of
their letters, without spaces, in UTF-8, headed by the name of its kind and a space; the lines in the order of their
bytes, each ended by a line feed. The digest is the SHA-256 of these bytes.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

from gearlog.domain.event import Event
from gearlog.domain.inspection import Inspection
from gearlog.domain.item import Item
from gearlog.domain.record import Record, to_text
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import StrengthTest

KINDS: dict[type[Record], str] = {
    Item: "item",
    Event: "event",
    Inspection: "inspection",
    Splice: "splice",
    StrengthTest: "test",
}
"""The name that heads a record's line."""


def canonical(records: Iterable[Record]) -> tuple[str, ...]:
    """The records' lines in order, without their line feeds; a record given twice counts once.

    Texts sort as their bytes do: UTF-8 keeps the order of the signs.
    """
    return tuple(sorted({_line(record) for record in records}))


def digest(lines: Iterable[str]) -> str:
    """SHA-256 of the canonical form, 64 hexadecimal digits."""
    found = hashlib.sha256()
    for line in lines:
        found.update(line.encode() + b"\n")
    return found.hexdigest()


def _line(record: Record) -> str:
    return f"{KINDS[type(record)]} {to_text(record, ordered=True).decode()}"
