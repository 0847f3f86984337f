from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from msgspec.structs import replace

from gearlog.domain.fibres import all_fibres
from gearlog.domain.item import Item, RopeFacts
from gearlog.domain.vocabulary import Came, Use
from gearlog.upkeep.life import NATURAL, NEAR_END_DAYS, end_of_life

TODAY = date(2025, 6, 1)
MakeItem = Callable[..., Item]


@pytest.mark.parametrize(
    ("dates", "limit", "ends"),
    [
        ({"made": "2020-05-31"}, (10, None), "2030-05-31"),
        ({"made": "2020-02-29"}, (10, None), "2030-02-28"),
        ({"made": "2020"}, (10, None), "2030-01-01"),  # the first day that the year can mean
        ({"made": "2020-07"}, (10, None), "2030-07-01"),
        ({"made": "2020-05-31", "used": "2021-03-01"}, (10, 5), "2026-03-01"),  # the earlier limit ends it
        ({"made": "2020-05-31", "used": "2021-03-01"}, (6, 10), "2026-05-31"),
        ({"bought": "2021-04", "used": "2021-05-05"}, (10, None), "2031-04-01"),  # the earliest date known
        ({"made": "2020-05-31"}, (None, 5), "2025-05-31"),  # not known when first used: not later than made + 5
    ],
)
def test_life_ends_at_the_earliest_day_that_the_makers_limit_can_mean(
    item: MakeItem, dates: dict[str, str], limit: tuple[int | None, int | None], ends: str
) -> None:
    assert end_of_life(item(**dates, limit=limit), TODAY).on == date.fromisoformat(ends)


@pytest.mark.parametrize(
    ("dates", "limit"),
    [({"made": "2010-01-01"}, None), ({}, (10, 10)), ({"made": "2010-01-01"}, (None, None))],
)
def test_an_unknown_end_of_life_stays_a_gap(
    item: MakeItem, dates: dict[str, str], limit: tuple[int | None, int | None] | None
) -> None:
    end = end_of_life(item(**dates, limit=limit), TODAY)
    assert (end.on, end.state) == (None, "unknown")
    assert end.reason


def test_counting_from_another_date_than_the_limits_own_is_said(item: MakeItem) -> None:
    reason = end_of_life(item(bought="2021-04", limit=(10, None)), TODAY).reason
    assert "unknown" in reason
    assert "2021-04" in reason


@pytest.mark.parametrize(
    ("left", "state"),
    [(0, "ended"), (-1, "ended"), (1, "near"), (NEAR_END_DAYS, "near"), (NEAR_END_DAYS + 1, "in-date")],
)
def test_the_day_itself_is_the_first_on_which_it_is_not_used(item: MakeItem, left: int, state: str) -> None:
    end = date(2030, 5, 31)
    made = item(made="2020-05-31", limit=(10, None))
    assert end_of_life(made, end - timedelta(days=left)).state == state


@pytest.mark.parametrize(
    ("dates", "limit", "ends"),
    [
        ({"bought": "2015-05"}, (10, None), "2025-05-01"),  # it was made before it was bought
        ({"used": "2020-03-05"}, (5, None), "2025-03-05"),  # and before anybody used it
        ({"bought": "2021-01-01"}, (None, 2), "2023-01-01"),
        ({}, (1, None), "2025-01-01"),  # no date at all: it was made before it came into the log
    ],
)
def test_what_was_bought_used_is_over_when_even_the_latest_day_is_that_its_life_can_end(
    item: MakeItem, dates: dict[str, str], limit: tuple[int | None, int | None], ends: str
) -> None:
    used = replace(item(**dates, limit=limit), came=Came.USED)
    end, last = end_of_life(used, TODAY), date.fromisoformat(ends)
    assert (end.on, end.state) == (last, "ended")
    assert f"{last} at the latest" in end.reason
    assert end_of_life(used, last - timedelta(days=1)).state == "near"
    early = end_of_life(used, last - timedelta(days=NEAR_END_DAYS + 1))
    assert (early.on, early.state) == (None, "unknown")  # no day is told as if it were known
    assert f"{last} at the latest" in early.reason


def test_first_use_of_what_was_bought_used_was_not_before_it_was_made(item: MakeItem) -> None:
    used = replace(item(made="2019-02", bought="2024-01-01", limit=(None, 5)), came=Came.USED)
    assert end_of_life(used, TODAY).on == date(2024, 2, 1)


def test_the_other_limit_is_told_beside_the_one_that_counts(item: MakeItem) -> None:
    used = replace(item(used="2024-05-05", limit=(20, 3)), came=Came.USED)
    end = end_of_life(used, TODAY)
    assert end.on == date(2027, 5, 5)
    assert "2044-05-05 at the latest" in end.reason


def natural(made: Item, fibre: str = "manila", **more: object) -> Item:
    return replace(made, rope=RopeFacts(construction="three-strand", cover_fibre=fibre), **more)


@pytest.mark.parametrize(
    ("made_on", "fibre", "used_for", "state"),
    [
        ("2020-05-31", "manila", Use.PEOPLE, "ended"),
        ("2020-06-30", "cotton", Use.PEOPLE, "near"),
        ("2021-06-01", "manila", Use.PEOPLE, "unknown"),
        ("2020-05-31", "manila", Use.RIGGING, "unknown"),
        ("2020-05-31", "polyester", Use.PEOPLE, "unknown"),
    ],
)
def test_natural_fibre_of_five_years_is_not_for_lives(
    item: MakeItem, made_on: str, fibre: str, used_for: Use, state: str
) -> None:
    end = end_of_life(natural(item(made=made_on), fibre, used_for=used_for), TODAY)
    assert end.state == state
    assert ("not for lives (NAVEDTRA 14067): 5 years from made" in end.reason) == (state != "unknown")


def test_the_makers_earlier_limit_ends_natural_fibre_too(item: MakeItem) -> None:
    assert end_of_life(natural(item(made="2020-05-31", limit=(3, None))), TODAY).on == date(2023, 5, 31)
    assert end_of_life(natural(item(made="2020-05-31", limit=(10, None))), TODAY).on == date(2025, 5, 31)


def test_the_natural_fibres_are_those_of_the_catalogue() -> None:
    assert {one.id for one in all_fibres() if one.kind == "natural"} == NATURAL
