"""What an item's history says about examinations: the last one, and what happened since."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from gearlog.domain.event import Event
from gearlog.domain.lifecycle import CLEARING
from gearlog.domain.order import Moment
from gearlog.domain.vocabulary import EventKind

EXCEPTIONAL = frozenset(
    {EventKind.FALL_ARRESTED, EventKind.SHOCK_LOADED, EventKind.CHEMICAL_CONTACT, EventKind.DROPPED}
)
"""After these the item is examined at once (LOLER 1998 reg. 9(3)(a)(iv); a drop is our choice, on the safe side)."""


def last_examination(events: Sequence[Event], today: date) -> Event | None:
    """The newest standing examination, dates read as early as they can mean; None when never examined."""
    return _newest(events, today, frozenset({EventKind.EXAMINED}))


def last_check(events: Sequence[Event], today: date) -> Event | None:
    """The same of checks by the user."""
    return _newest(events, today, frozenset({EventKind.CHECKED}))


def _newest(events: Sequence[Event], today: date, kinds: frozenset[EventKind]) -> Event | None:
    made = [
        (event.happened_on.earliest(), place)
        for place, event in enumerate(events)
        if event.kind in kinds and not event.struck_because
    ]
    past = [found for found in made if found[0] <= today]
    return events[max(past)[1]] if past else None


def uncleared(events: Sequence[Event]) -> Event | None:
    """The first exceptional event that no later examination or release has cleared, or None."""
    if not any(event.kind in EXCEPTIONAL for event in events):
        return None
    stand = [(event, Moment(event.happened_on, event.created_at, place))
             for place, event in enumerate(events) if not event.struck_because]  # fmt: skip
    clearings = [moment for event, moment in stand if event.kind in CLEARING]
    for event, moment in stand:
        if event.kind in EXCEPTIONAL and not any(clearing.is_after(moment) for clearing in clearings):
            return event
    return None
