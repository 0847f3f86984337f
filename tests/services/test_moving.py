from __future__ import annotations

import json
import re
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.services.moving import moved, moved_date
from gearlog.services.sample import demo_folder


@pytest.mark.parametrize(
    ("text", "days", "later"),
    [
        ("2024-02-28", 1, "2024-02-29"),
        ("2024-12-31", 1, "2025-01-01"),
        ("2024-05", 0, "2024-05"),
        ("2024-05", 14, "2024-05"),  # the middle, 16 May, moves to the 30th
        ("2024-05", 16, "2024-06"),
        ("2024", 182, "2024"),
        ("2024", 185, "2025"),
        ("2024-05", -31, "2024-04"),
        ("", 5, ""),
        ("soon", 5, "soon"),
    ],
)
def test_a_day_moves_exactly_and_a_month_or_year_by_its_middle(text: str, days: int, later: str) -> None:
    assert moved_date(text, days) == later


@given(st.dates(date(1950, 1, 1), date(2100, 1, 1)), st.integers(-9000, 9000))
def test_days_keep_their_distance(day: date, days: int) -> None:
    assert moved_date(day.isoformat(), days) == (day + timedelta(days=days)).isoformat()


def test_only_dates_and_moments_move_wherever_they_stand() -> None:
    row = {
        "made_on": "2024-05-31",
        "first_used_on": None,
        "created_at": "2024-05-31T10:00:00Z",
        "changed_at": "2024-05-31T10:00:00+00:00",
        "kept_at": "van 2",
        "elongation_at": "2.2 kN",
        "name": "2024-05-31",
        "life_limit": {"read_at": "sheet of 2024-05-31", "years_from_made": 10},
        "parts": {"marks": [{"at_m": 0.5, "seen_on": "2024-05"}], "steps": ["2024-05-31"]},
    }
    before = repr(row)
    assert moved(row, 31) == row | {
        "made_on": "2024-07-01",
        "created_at": "2024-07-01T10:00:00Z",
        "changed_at": "2024-07-01T10:00:00+00:00",
        "parts": {"marks": [{"at_m": 0.5, "seen_on": "2024-06"}], "steps": ["2024-05-31"]},
    }
    assert repr(row) == before


@pytest.mark.parametrize(
    ("dates", "days", "later"),
    [
        ({"made_on": "2024-05", "bought_on": "2024-05-02"}, 20, {"made_on": "2024-05", "bought_on": "2024-05-22"}),
        ({"made_on": "2024-05-30", "bought_on": "2024-05"}, 10, {"made_on": "2024-06-09", "bought_on": "2024-06"}),
        ({"made_on": "2024", "first_used_on": "2024-02"}, 200, {"made_on": "2024", "first_used_on": "2024-09"}),
    ],
)
def test_dates_of_an_item_stay_in_order(dates: dict[str, str], days: int, later: dict[str, str]) -> None:
    assert moved(dates, days) == later


def test_no_date_stands_in_a_plan_which_is_therefore_left_as_it_is() -> None:
    log = json.loads((demo_folder() / "log.json").read_text(encoding="utf-8"))
    plans = [row["plan"] for table in ("splices", "benches") for row in log[table].values() if row.get("plan")]
    assert len(plans) > 20
    assert not re.search(r"\d{4}-\d{2}-\d{2}", json.dumps(plans))
    assert moved({"plan": plans[0], "made_on": "2024-05-01"}, 1) == {"plan": plans[0], "made_on": "2024-05-02"}
