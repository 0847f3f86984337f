from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.upkeep.due import DUE_SOON_DAYS, due_of

TODAY = date(2025, 6, 1)
MakeItem = Callable[..., Item]
History = Callable[..., tuple[Event, ...]]


@pytest.mark.parametrize(
    ("entries", "due_on"),
    [
        ([("examined", "2025-02-10")], "2025-08-10"),  # LOLER 1998 reg. 9(3)(a): six months
        ([("examined", "2024-08-31")], "2025-02-28"),
        ([("examined", "2025-03")], "2025-09-01"),  # a month is read as its first day
        ([("examined", "2025")], "2025-07-01"),
        ([("examined", "2025-02-10", "2025-05-10")], "2025-05-10"),  # what the examiner set
        ([("examined", "2025-02-10", "2025-07")], "2025-07-01"),
        ([("examined", "2025-02-10", "2025-11")], "2025-08-10"),  # nobody puts off what a rule asks
        ([("examined", "2025-02-10"), ("examined", "2024-02-10")], "2025-08-10"),  # entered late
        ([("examined", "2025-02-10"), ("-examined", "2025-05-10")], "2025-08-10"),  # struck out
        ([("examined", "2025-02-10"), ("examined", "2025-06-02")], "2025-08-10"),  # dated tomorrow
        ([("examined", "2025-02-10", "2026-02-10"), ("examined", "2025-03-10")], "2025-09-10"),  # the last rules
        ([("examined", "2025-02-10"), ("dropped", "2025-03-01")], "2025-03-01"),  # at once
        ([("dropped", "2025-03-01"), ("examined", "2025-03-01")], "2025-09-01"),
        ([("examined", "2025-03-01"), ("dropped", "2025-03-01")], "2025-03-01"),  # the same day, entered after
        ([("examined", "2025-03-01"), ("dropped", "2025-03")], "2025-03-01"),  # may have been after
        ([("examined", "2025-03-01"), ("-dropped", "2025-03-02")], "2025-09-01"),
        (
            [("examined", "2025-02-10"), ("fall-arrested", "2025-03-01"), ("released", "2025-03-05")],
            "2025-08-10",
        ),
    ],
)
def test_the_next_examination_is_due_on_the_safe_side(
    item: MakeItem, history: History, entries: list[tuple[str, ...]], due_on: str
) -> None:
    assert due_of(item(), history(*entries), TODAY).due_on == date.fromisoformat(due_on)


@pytest.mark.parametrize(
    ("left", "state", "word"),
    [
        (-1, "overdue", "OVERDUE"),
        (0, "due-soon", "due soon"),
        (DUE_SOON_DAYS, "due-soon", "due soon"),
        (DUE_SOON_DAYS + 1, "in-date", "examination due"),
    ],
)
def test_the_state_is_told_in_words_and_the_due_day_itself_is_not_overdue(
    item: MakeItem, history: History, left: int, state: str, word: str
) -> None:
    due = due_of(item(), history(("examined", "2025-01-31")), date(2025, 7, 31) - timedelta(days=left))
    assert due.state == state
    assert due.reason.startswith(word)


def test_what_was_never_examined_is_overdue_and_says_so(item: MakeItem, history: History) -> None:
    for entries in ([], [("washed", "2025-01-01")], [("-examined", "2025-01-01")]):
        due = due_of(item(), history(*entries), TODAY)
        assert (due.state, due.due_on, due.reason) == ("never-examined", None, "OVERDUE: never examined")


@pytest.mark.parametrize(
    ("last", "word"),
    [
        ("quarantined", "quarantined"),
        ("fall-arrested", "fall arrested on 2025-05-20"),
        ("retired", "retired"),
        ("destroyed", "destroyed"),
        ("lost", "lost"),
    ],
)
def test_what_is_out_of_service_has_no_due_date_but_a_word(
    item: MakeItem, history: History, last: str, word: str
) -> None:
    due = due_of(item(), history(("examined", "2025-05-01"), (last, "2025-05-20")), TODAY)
    assert (due.state, due.due_on) == ("out-of-service", None)
    assert word in due.reason


@pytest.mark.parametrize(
    ("made", "due_on", "state", "rule"),
    [
        ("2015-07-01", "2025-07-01", "due-soon", "end of life"),  # before the examination of October
        ("2015-06-01", "2025-06-01", "overdue", "end of life"),  # ended today
        ("2014-06-01", "2024-06-01", "overdue", "end of life"),
        ("2016-06-01", "2025-10-01", "in-date", ""),
    ],
)
def test_the_earlier_of_examination_and_end_of_life_wins(
    item: MakeItem, history: History, made: str, due_on: str, state: str, rule: str
) -> None:
    due = due_of(item(made=made, limit=(10, None)), history(("examined", "2025-04-01")), TODAY)
    assert (due.due_on, due.state) == (date.fromisoformat(due_on), state)
    assert due.rule == rule or not rule


def test_a_life_that_ended_is_told_also_of_what_was_never_examined(item: MakeItem, history: History) -> None:
    due = due_of(item(made="2010", limit=(10, None)), history(), TODAY)
    assert due.state == "overdue"
    assert "life ended on 2020-01-01" in due.reason
