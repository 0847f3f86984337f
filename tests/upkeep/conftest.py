"""Items and histories for the rules of upkeep."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.item import Item, LifeLimit
from gearlog.domain.vocabulary import Category, EventKind

SAVED = datetime(2024, 1, 1, tzinfo=UTC)
History = Callable[..., tuple[Event, ...]]
MakeItem = Callable[..., Item]


def _day(text: str | None) -> PartialDate | None:
    return PartialDate.read(text) if text else None


@pytest.fixture
def item() -> MakeItem:
    """Makes an item from its dates and its limit: (years from made, years from first use)."""

    def make(
        made: str | None = None,
        bought: str | None = None,
        used: str | None = None,
        limit: tuple[int | None, int | None] | None = None,
    ) -> Item:
        return Item(
            id="a",
            created_at=SAVED,
            changed_at=SAVED,
            tag="a",
            category=Category.HARNESS,
            name="a",
            made_on=_day(made),
            bought_on=_day(bought),
            first_used_on=_day(used),
            life_limit=LifeLimit(years_from_made=limit[0], years_from_first_use=limit[1]) if limit else None,
        )

    return make


@pytest.fixture
def history() -> History:
    """Makes a history from (kind, date) or (kind, date, next due); a kind with ``-`` before it is struck out."""

    def make(*entries: tuple[str, ...]) -> tuple[Event, ...]:
        return tuple(_event(place, *entry) for place, entry in enumerate(entries))

    return make


def _event(place: int, kind: str, on: str, next_due: str | None = None) -> Event:
    saved = SAVED + timedelta(minutes=place)
    return Event(
        id=str(place),
        created_at=saved,
        changed_at=saved,
        item_id="a",
        kind=EventKind(kind.removeprefix("-")),
        happened_on=PartialDate.read(on),
        next_due_on=_day(next_due),
        struck_because="entered for the wrong item" if kind.startswith("-") else "",
    )
