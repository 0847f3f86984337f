from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime

import pytest

from gearlog.domain.event import Event
from gearlog.domain.history import History
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import status_of
from gearlog.domain.past import as_of, as_recorded, assigned_on, known_from, written_since
from gearlog.domain.vocabulary import Status

MakeEvent = Callable[..., Event]
DAY = date(2024, 5, 15)
EARLY, LATE = datetime(2024, 5, 14, tzinfo=UTC), datetime(2024, 6, 3, tzinfo=UTC)


@pytest.mark.parametrize(
    ("kind", "on", "written", "counts"),
    [
        ("fall-arrested", "2024-05-15", LATE, True),
        ("fall-arrested", "2024-05-16", EARLY, False),
        ("fall-arrested", "2024-05", LATE, True),  # what stops counts from the first day that it can mean
        ("released", "2024-05", LATE, False),  # what frees from the last one
        ("released", "2024-04", LATE, True),
        ("released", "2024-05", EARLY, True),  # or from the day on which it was written down
        ("released", "2024", EARLY, True),
        ("examined", "2024-05", LATE, False),
        ("cut", "2024-05", LATE, True),
    ],
)
def test_an_unsure_date_is_read_on_the_safe_side(
    rope: Item, event: MakeEvent, kind: str, on: str, written: datetime, *, counts: bool
) -> None:
    history = History(rope, (event(kind, on, saved=written),))
    assert bool(as_of(history, DAY).events) is counts


def test_what_was_known_on_a_day_is_not_what_is_known_of_it(rope: Item, event: MakeEvent) -> None:
    late = event("fall-arrested", "2024-05-10", saved=LATE)
    struck = event("quarantined", "2024-05-10", saved=EARLY, struck_because="other rope")
    struck = Event(**{name: getattr(struck, name) for name in struck.__struct_fields__} | {"changed_at": LATE})
    known, shown = as_of(History(rope, (late, struck)), DAY), as_recorded(History(rope, (late, struck)), DAY)
    assert known.events == (late,)
    assert [one.kind for one in shown.events] == ["quarantined"]
    assert status_of(shown.events) is Status.QUARANTINED
    assert written_since(History(rope, (late, struck)), DAY) == (late,)


def test_an_item_is_known_from_its_earliest_date(rope: Item, event: MakeEvent) -> None:
    assert known_from(History(rope)) == rope.created_at.date()
    assert known_from(History(rope, (event("washed", "2024-02"),))) == date(2024, 2, 1)


def test_who_had_an_item_on_a_day_is_told_by_the_last_assignment_before(rope: Item, event: MakeEvent) -> None:
    moves = (event("assigned", "2024-05-01", to="climber 1"), event("assigned", "2024-05-20", to="climber 2"))
    assert [assigned_on(rope, moves, date(2024, 5, day)) for day in (19, 20)] == ["climber 1", "climber 2"]
    assert assigned_on(rope, moves, date(2024, 4, 1)) == ""
    assert assigned_on(rope, (), DAY) == rope.assigned_to
