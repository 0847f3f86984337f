from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.upkeep.months import add_months, add_years


@pytest.mark.parametrize(
    ("day", "months", "later"),
    [
        ("2024-01-15", 6, "2024-07-15"),
        ("2024-07-15", 6, "2025-01-15"),
        ("2024-08-31", 6, "2025-02-28"),
        ("2023-08-31", 6, "2024-02-29"),
        ("2024-03-31", 6, "2024-09-30"),
        ("2024-02-29", 12, "2025-02-28"),
        ("2024-06-30", 6, "2024-12-30"),
        ("2024-12-31", 0, "2024-12-31"),
        ("2099-08-31", 6, "2100-02-28"),  # 2100 is no leap year
        ("1999-08-31", 6, "2000-02-29"),  # 2000 is one
    ],
)
def test_a_month_later_is_the_same_day_or_the_last_of_a_shorter_month(day: str, months: int, later: str) -> None:
    assert add_months(date.fromisoformat(day), months).isoformat() == later


@pytest.mark.parametrize(
    ("day", "years", "later"),
    [("2024-02-29", 4, "2028-02-29"), ("2024-02-29", 10, "2034-02-28"), ("2015-05-31", 10, "2025-05-31")],
)
def test_a_leap_day_ends_on_28_february_in_a_common_year(day: str, years: int, later: str) -> None:
    assert add_years(date.fromisoformat(day), years).isoformat() == later


@given(st.dates(date(1900, 1, 1), date(2150, 12, 31)), st.integers(0, 600))
def test_a_term_is_never_longer_than_the_calendar_allows(day: date, months: int) -> None:
    later = add_months(day, months)
    assert later.day <= day.day
    assert (later.year - day.year) * 12 + later.month - day.month == months
