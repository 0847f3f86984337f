from __future__ import annotations

import copy
import pickle
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.dates import PartialDate
from gearlog.errors import ReadingError
from gearlog.units.visible import visible


@pytest.mark.parametrize(
    ("typed", "earliest", "latest"),
    [
        ("2024-05-31", date(2024, 5, 31), date(2024, 5, 31)),
        (" 2024-05 ", date(2024, 5, 1), date(2024, 5, 31)),
        ("2024-02", date(2024, 2, 1), date(2024, 2, 29)),
        ("2023-02", date(2023, 2, 1), date(2023, 2, 28)),
        ("2024-12", date(2024, 12, 1), date(2024, 12, 31)),
        ("2024", date(2024, 1, 1), date(2024, 12, 31)),
    ],
)
def test_a_date_means_all_days_of_what_is_known(typed: str, earliest: date, latest: date) -> None:
    day = PartialDate.read(typed)
    assert (day.earliest(), day.latest(), day.text) == (earliest, latest, typed.strip())


@pytest.mark.parametrize(
    "typed",
    [
        "", " ", "today", "24", "2024-5-31", "2024-13", "2024-00", "2024-05-00", "0000-01", "2023-02-29", "2024-02-30",
        "31.05.2024", "05/31/2024", "2024-05-31T10:00", "2024-05-", "2024--31", "-2024", "0000", "1899", "2200-01-01",
        "2024-05-31\n", "\u0662\u0660\u0662\u0664", "\uff12\uff10\uff12\uff14", "9" * 10_000, "\x1b[31m", "[/]",
    ],
)  # fmt: skip
def test_what_is_no_date_is_refused_in_one_short_line_with_an_example(typed: str) -> None:
    with pytest.raises(ReadingError, match="like 2024-05-31") as refusal:
        PartialDate.read(typed)
    assert visible(refusal.value.message) == refusal.value.message
    assert len(refusal.value.message) < 160


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_every_day_reads_back_as_itself(day: date) -> None:
    read = PartialDate.read(PartialDate.of(day).text)
    assert (read.earliest(), read.latest()) == (day, day)
    assert read == PartialDate.of(day)


def test_dates_can_be_copied_compared_and_kept_in_sets() -> None:
    day = PartialDate.read("2024-05")
    assert copy.deepcopy(day) == day == pickle.loads(pickle.dumps(day))  # noqa: S301 (our own bytes)
    assert len({day, PartialDate.read("2024-05"), PartialDate.read("2024-05-01")}) == 2
    assert day != "2024-05"
