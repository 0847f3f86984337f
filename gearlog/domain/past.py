"""The history as it stood on a past day.

``as_of`` tells what had happened by that day, as it is known now: entries count by their dates of happening, whenever
they were written down, and what was struck out since does not count. ``as_recorded`` tells what was shown on that day:
only what had been written down by then, and what was struck out later still counts. Both agree for a log that is kept
day by day. Of a date known only to the month or the year the safe side is taken: what stops an item counts from the
first day it can mean, what frees it from the last, or from the day on which it was written down.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import TypeVar

from msgspec.structs import replace

from gearlog.domain.counting import DERIVED
from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.history import History, Origin
from gearlog.domain.inspection import Inspection, Verdict
from gearlog.domain.item import Item
from gearlog.domain.lineage import with_taken
from gearlog.domain.record import Record
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import EventKind, Outcome

FREEING = frozenset({EventKind.EXAMINED, EventKind.CHECKED, EventKind.RELEASED, EventKind.RETURNED})
"""Entries that make an item fit or free again."""
_LATER = frozenset({Outcome.CUT_OFF, Outcome.FAILED, Outcome.GIVEN_UP})
"""Outcomes that a correction tells because something happened to the splice since."""

Struck = TypeVar("Struck", Event, Inspection)


def as_of(history: History, day: date) -> History:
    """What had happened by ``day``, as it is known now."""
    past = replace(
        history,
        events=tuple(event for event in history.events if not event.struck_because and _event_by(event, day)),
        inspections=tuple(one for one in history.inspections if not one.struck_because and _inspection_by(one, day)),
        origin=replace(history.origin, parent=as_of(history.origin.parent, day)) if history.origin else None,
    )
    return with_taken(past, tuple(splice for splice in history.own_splices if _splice_by(splice, day)))


def as_recorded(history: History, day: date) -> History:
    """What was shown on ``day``; an item's own data are those of now."""
    past = replace(
        history,
        events=_unstruck(history.events, day),
        inspections=_unstruck(history.inspections, day),
        origin=_recorded_origin(history.origin, day) if history.origin else None,
    )
    return with_taken(past, tuple(splice for splice in history.own_splices if written_by(splice, day)))


def written_by(record: Record, day: date) -> bool:
    """Whether a record had been written down by the end of ``day`` (UTC)."""
    return record.created_at.date() <= day


def written_since(history: History, day: date) -> tuple[Event | Inspection | Splice, ...]:
    """What happened by ``day`` and was written down later: it was not shown then."""
    past = as_of(history, day)
    happened: tuple[Event | Inspection | Splice, ...] = (*past.events, *past.inspections, *past.own_splices)
    return tuple(one for one in happened if not written_by(one, day))


def known_from(history: History) -> date:
    """The first day on which the item is known: of a piece the day of its cut, else the earliest date on record."""
    if history.origin is not None:
        return history.origin.cut_at.day.earliest()
    inspected = (one.inspected_on.earliest() for one in history.inspections if not one.struck_because)
    return min([entered_on(history.item, history.events), *inspected])


def entered_on(item: Item, entries: Iterable[Event]) -> date:
    """The earliest date on record of what was cut from nothing, and of the entries that count for it."""
    dates = [day.earliest() for day in (item.bought_on, item.first_used_on) if day is not None]
    dates += [event.happened_on.earliest() for event in entries if not event.struck_because]
    return min([item.created_at.date(), *dates])


def entries_as_of(entries: Iterable[Event], day: date) -> tuple[Event, ...] | None:
    """Of the entries that count now for what was cut from nothing those that had happened by ``day``.

    The short way to what ``as_of`` gives; None where an inspection's date is vague: there the record itself decides.
    """
    found: list[Event] = []
    for event in entries:
        if event.struck_because:
            continue
        if event.happened_on.is_exact:
            if event.happened_on.earliest() <= day:
                found.append(event)
        elif DERIVED in event.id:
            return None
        elif _event_by(event, day):
            found.append(event)
    return tuple(found)


def entries_as_recorded(entries: tuple[Event, ...], day: date) -> tuple[Event, ...]:
    """The same of what ``as_recorded`` gives."""
    return _unstruck(entries, day)


def assigned_on(item: Item, events: Iterable[Event], day: date) -> str:
    """Who had the item on ``day``: by the last assignment up to then, else as its data say if there is none at all."""
    moves = [event for event in events if event.kind is EventKind.ASSIGNED and not event.struck_because]
    if not moves:
        return item.assigned_to
    past = [event for event in moves if event.happened_on.earliest() <= day]
    return max(past, key=lambda event: (event.happened_on.earliest(), event.created_at)).to if past else ""


def _recorded_origin(origin: Origin, day: date) -> Origin:
    cut = _unstruck((origin.cut,), day) if origin.cut is not None else ()
    return replace(origin, parent=as_recorded(origin.parent, day), cut=cut[0] if cut else origin.cut)


def _unstruck(records: tuple[Struck, ...], day: date) -> tuple[Struck, ...]:
    return tuple(
        replace(one, struck_because="") if one.struck_because and one.changed_at.date() > day else one
        for one in records
        if written_by(one, day)
    )


def _event_by(event: Event, day: date) -> bool:
    if event.happened_on.is_exact:
        return event.happened_on.earliest() <= day
    return _happened(event.happened_on, event, day, frees=event.kind in FREEING)


def _inspection_by(inspection: Inspection, day: date) -> bool:
    if inspection.inspected_on.is_exact:
        return inspection.inspected_on.earliest() <= day
    stops = inspection.verdict in {Verdict.OUT_OF_SERVICE, Verdict.RETIRE} or inspection.stops
    return _happened(inspection.inspected_on, inspection, day, frees=not stops)


def _splice_by(splice: Splice, day: date) -> bool:
    if splice.corrects and splice.outcome in _LATER:
        return written_by(splice, day)
    return _happened(splice.made_on, splice, day, frees=True)


def _happened(on: PartialDate, record: Record, day: date, *, frees: bool) -> bool:
    """Whether it had happened by ``day``; a date known to the day decides alone."""
    if on.is_exact or not frees:
        return on.earliest() <= day
    return on.latest() <= day or (on.earliest() <= day and written_by(record, day))
