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
        cut_as: of a cut, ``piece``, ``end`` (with what was on it) or ``trim``; empty where it was not told.
        piece_id: of a cut, the item that the piece became, or empty.
        to: of a loan or an assignment, who got it; empty is nobody.
        findings: of a quarantine, ids of the findings that must be resolved; of a release, of those that are.
        struck_because: why the entry was struck out; empty while it stands.
    """

    item_id: str
    kind: EventKind
    happened_on: PartialDate
    by: str = ""
    next_due_on: PartialDate | None = None
    length: Length | None = None
    cut_end: str = ""
    cut_as: str = ""
    piece_id: str = ""
    to: str = ""
    findings: tuple[str, ...] = ()
    struck_because: str = ""
