"""Records for tests: one rope, and makers of events and splices that follow one another."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.item import Item, RopeFacts
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Category, End, EndState, EventKind
from gearlog.units.measure import Length

SAVED = datetime(2024, 6, 1, 10, 0, tzinfo=UTC)


@pytest.fixture
def rope() -> Item:
    return Item(
        id="rope-1",
        created_at=SAVED,
        changed_at=SAVED,
        tag="line-1",
        category=Category.LIFELINE,
        name="long climbing line",
        rope=RopeFacts(
            construction="cover-loaded",
            diameter=Length.read("12.7 mm"),
            length_bought=Length.read("45 m"),
            end_b=EndState.SEWN,
        ),
    )


MakeEvent = Callable[..., Event]
MakeSplice = Callable[..., Splice]


@pytest.fixture
def event() -> MakeEvent:
    """Events, each saved a minute after the one before."""
    made = 0

    def make(kind: str, on: str = "2024-05-20", **more: Any) -> Event:
        nonlocal made
        made += 1
        saved = more.pop("saved", SAVED + timedelta(minutes=made))
        return Event(
            id=f"event-{made}",
            created_at=saved,
            changed_at=saved,
            item_id="rope-1",
            kind=EventKind(kind),
            happened_on=PartialDate.read(on),
            **more,
        )

    return make


@pytest.fixture
def splice() -> MakeSplice:
    """Splices, each saved a minute after the one before."""
    made = 0

    def make(on: str = "2024-05-10", *, end: End = End.A, **more: Any) -> Splice:
        nonlocal made
        made += 1
        saved = more.pop("saved", SAVED + timedelta(minutes=made))
        return Splice(
            id=f"splice-{made}",
            created_at=saved,
            changed_at=saved,
            rope_id="rope-1",
            end=end,
            method="cover-eye",
            made_on=PartialDate.read(on),
            **more,
        )

    return make
