"""End of life by the maker's stated limit, and of natural fibre by the handbook's; what is unknown stays a gap."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

import msgspec
from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.item import Item, LifeLimit
from gearlog.domain.vocabulary import Came, Use
from gearlog.upkeep.months import add_years

LifeState = Literal["unknown", "in-date", "near", "ended"]
NEAR_END_DAYS = 90
"""Days before the end of life at which it is told: time to buy another; our default, no source."""

NATURAL = frozenset({"manila", "sisal", "hemp", "cotton"})
"""The natural fibres of the catalogue; named here too, for a list of many items is told without reading that."""
NATURAL_YEARS = 5  # years; a line of natural fibre that is older is not for lives (NAVEDTRA 14067)
NOT_FOR_LIVES = "natural fibre older than five years is not for lives (NAVEDTRA 14067)"


class LifeEnd(msgspec.Struct, frozen=True):
    """When the life of an item ends.

    Attributes:
        on: the day from which it is not to be used, or None when it cannot be told.
        state: ``unknown``, ``in-date``, ``near`` (within NEAR_END_DAYS) or ``ended``.
        reason: how the day was found, or what is missing.
    """

    on: date | None
    state: LifeState
    reason: str


class _Count(msgspec.Struct, frozen=True):
    """One limit counted.

    Attributes:
        on: the day.
        how: how it was counted.
        at_latest: whether the true day may be earlier: what it counts from is unknown and lies before all known dates.
    """

    on: date
    how: str
    at_latest: bool = False


def end_of_life(item: Item, today: date) -> LifeEnd:
    """The earliest of the maker's limits, and of natural fibre's for people; partial dates are read as their first day.

    What natural fibre ends is told once it is near or over: a life that the maker limits otherwise stays a gap.
    Where only the latest day is known on which life can end, that day is told once it is near or over; till then the
    end stays a gap.
    """
    counts = (*(_counts(item, item.life_limit) if item.life_limit is not None else ()), *_natural(item, today))
    if not counts:
        return LifeEnd(None, "unknown", "no limit of life on record; ask the maker's instructions")
    told = [one for one in counts if not one.at_latest or _state(one.on, today) != "in-date"]
    if not told:
        return LifeEnd(None, "unknown", "; ".join(one.how for one in counts))
    first = min(told, key=lambda one: one.on)
    others = (one.how for one in counts if one.at_latest and one is not first)
    return LifeEnd(first.on, _state(first.on, today), "; ".join([first.how, *others]))


def _counts(item: Item, limit: LifeLimit) -> tuple[_Count, ...]:
    made = ("made", item.made_on, limit.years_from_made)
    used = ("first used", item.first_used_on, limit.years_from_first_use)
    return tuple(_count(item, what, start, years) for what, start, years in (made, used) if years is not None)


def _natural(item: Item, today: date) -> tuple[_Count, ...]:
    """What ends the use of a natural fibre's rope for people, once that is near or over."""
    rope = item.rope
    if rope is None or item.used_for is not Use.PEOPLE or not NATURAL & {rope.cover_fibre, rope.core_fibre}:
        return ()
    count = _count(item, "made", item.made_on, NATURAL_YEARS)
    told = replace(count, how=f"{NOT_FOR_LIVES}: {count.how}")
    return () if _state(told.on, today) == "in-date" else (told,)


def _count(item: Item, what: str, start: PartialDate | None, years: int) -> _Count:
    """One limit of ``years``; without its own date it counts from the earliest date known, and says so."""
    stated = f"{_years(years)} from {what}"
    if start is not None:
        return _Count(add_years(start.earliest(), years), f"{stated} ({start})")
    since = _earliest_known(item)
    if since is not None and (item.came is not Came.USED or item.made_on is not None):
        how = f"{stated}: that date is unknown, counted from the earliest date known ({since})"
        return _Count(add_years(since.earliest(), years), how)
    why, known, day = "no date is known to count from", "its entry into the log", item.created_at.date()
    if since is not None:
        why, known = "it was bought used and that date is unknown", f"the earliest date known, {since}"
        day = since.earliest()
    on = add_years(day, years)
    return _Count(
        on, f"{stated} stated, but {why}; counted from {known}, it ends on {on} at the latest", at_latest=True
    )


def _years(count: int) -> str:
    return "1 year" if count == 1 else f"{count} years"


def _earliest_known(item: Item) -> PartialDate | None:
    known = [day for day in (item.made_on, item.bought_on, item.first_used_on) if day is not None]
    return min(known, key=PartialDate.earliest, default=None)


def _state(on: date, today: date) -> LifeState:
    if on <= today:
        return "ended"
    return "near" if on - today <= timedelta(days=NEAR_END_DAYS) else "in-date"
