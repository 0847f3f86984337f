"""The event: anything that happened to an item. History is this list; nothing is deleted from it."""

from __future__ import annotations

from gearlog.domain.dates import PartialDate
from gearlog.domain.record import Record
from gearlog.domain.vocabulary import EventKind
from gearlog.units.measure import Length


class Event(Record, frozen=True, kw_only=True):
    """Something that happened to an item.

    Attributes:
        item_id: the item.
        kind: what happened.
        happened_on: when, as well as it is known.
        by: who did or saw it; for an examination, who examined.
        next_due_on: of an examination, the latest date of the next, when one was set.
        length: of a cut, how much was taken off.
        cut_end: of a cut, which end it was taken from.
        struck_because: why the entry was struck out; empty while it stands.
    """

    item_id: str
    kind: EventKind
    happened_on: PartialDate
    by: str = ""
    next_due_on: PartialDate | None = None
    length: Length | None = None
    cut_end: str = ""
    struck_because: str = ""
