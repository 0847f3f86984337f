"""Particulars that an item's record should hold (EN 365:2004, 4.6) and does not: shown, never filled in."""

from __future__ import annotations

from collections.abc import Sequence

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.vocabulary import EventKind

_ASKED = (
    ("maker", "no maker"),
    ("model", "no model"),
    ("contact", "no contact of maker or supplier"),
    ("serial", "no serial"),
    ("standards", "no standards"),
    ("breaking_strength", "no breaking strength"),
    ("made_on", "no date of manufacture"),
    ("bought_on", "no date of purchase"),
    ("first_used_on", "no first use"),
    ("life_limit", "no limit of life"),
)
_ASKED_OF_ROPE = (("diameter", "no diameter"), ("length_bought", "no length"), ("cover_fibre", "no fibre"))


def gaps_of(item: Item, events: Sequence[Event]) -> tuple[str, ...]:
    """What is missing, in words, in the order in which a record is read."""
    missing = [words for name, words in _ASKED if not getattr(item, name)]
    if item.rope is not None:
        missing += [words for name, words in _ASKED_OF_ROPE if not getattr(item.rope, name)]
    standing = (event for event in events if event.kind is EventKind.EXAMINED and not event.struck_because)
    if not any(standing):
        missing.append("never examined")
    return tuple(missing)
