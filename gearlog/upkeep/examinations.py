"""What an item's history says about examinations: the last one, and what happened since."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from gearlog.domain.event import Event
from gearlog.domain.vocabulary import EventKind

EXCEPTIONAL = frozenset(
    {EventKind.FALL_ARRESTED, EventKind.SHOCK_LOADED, EventKind.CHEMICAL_CONTACT, EventKind.DROPPED}
)
"""After these the item is examined at once (LOLER 1998 reg. 9(3)(a)(iv); a drop is our choice, on the safe side)."""
_CLEARING = frozenset({EventKind.EXAMINED, EventKind.RELEASED})


def last_examination(events: Sequence[Event], today: date) -> Event | None:
    """The newest standing examination, dates read as early as they can mean; None when never examined."""
    made = [
        (event.happened_on.earliest(), place)
        for place, event in enumerate(events)
        if event.kind is EventKind.EXAMINED and not event.struck_because
    ]
    past = [found for found in made if found[0] <= today]
    return events[max(past)[1]] if past else None


def uncleared(events: Sequence[Event]) -> Event | None:
    """The first exceptional event that no later examination or release has cleared, or None.

    ``events`` come in order of entry; two events whose dates overlap follow that order.
    """
    standing = [event for event in events if not event.struck_because]
    for place, event in enumerate(standing):
        if event.kind in EXCEPTIONAL and not _cleared(standing, place):
            return event
    return None


def _cleared(standing: Sequence[Event], place: int) -> bool:
    happened = standing[place].happened_on
    return any(
        other.kind in _CLEARING
        and (
            other.happened_on.earliest() > happened.latest()
            or (at > place and other.happened_on.latest() >= happened.earliest())
        )
        for at, other in enumerate(standing)
    )
