"""The list of a past day tells of each item what its card of that day tells, also where dates are vague."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta
from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlog.domain.inspection import InspectionKind, Mark
from gearlog.errors import GearlogError, NotFoundError
from gearlog.services.book import Book, memory_book

KINDS = ("dropped", "fall-arrested", "lost", "found", "examined", "released", "loaned", "returned", "retired")
START = date(2024, 1, 30)
Entry = tuple[str, int, int, bool]
"""What happened, how many days before it was written down, how vague its date is, whether it is struck out later."""


def vague(day: date, how: int) -> str:
    return day.isoformat()[: (10, 7, 4)[how]]


def inspect(book: Book, item_id: str, on: str) -> str:
    sheet = book.inspecting.sheet(item_id, InspectionKind.THOROUGH)
    for line in sheet.lines:
        sheet = sheet.see(line.key)
    sheet = sheet.answer(sheet.lines[0].key, Mark.FAIL, "seen").pass_rest()
    return book.inspecting.record(sheet, {"inspected_on": on, "inspector": "AB", "competence": "course"}).id


def lived(entries: list[Entry]) -> tuple[Book, date]:
    day, ticks = START, count()
    book = memory_book(
        today=lambda: day, now=lambda: datetime(day.year, day.month, day.day, 8, second=next(ticks) % 60, tzinfo=UTC)
    )
    bought = {"bought_on": "2023-11", "first_used_on": "2023-12-24", "life_years_from_first_use": "1"}
    item = book.gear.add({"name": "harness", "category": "harness"} | bought)
    for kind, before, how, struck in entries:
        day += timedelta(days=23)
        on = vague(day - timedelta(days=before), how)
        with suppress(GearlogError):
            if kind == "inspected":
                made = inspect(book, item.id, on)
                strike: Callable[[str, str], object] = book.inspecting.strike
            else:
                form = {"kind": kind, "happened_on": on, "by": "AB", "notes": "so"}
                made, strike = book.gear.record_event(item.id, form).id, book.gear.strike
            if struck:
                day += timedelta(days=5)
                strike(made, "wrong item")
    return book, day


ACTS = st.tuples(st.sampled_from((*KINDS, "inspected")), st.integers(0, 200), st.integers(0, 2), st.booleans())


@settings(max_examples=40, deadline=None)
@given(st.lists(ACTS, min_size=1, max_size=9), st.booleans())
def test_a_row_of_a_past_day_tells_what_the_card_tells(entries: list[Entry], recorded: bool) -> None:
    book, last = lived(entries)
    item_id = book.gear.rows()[0].item.id
    for day in (last - timedelta(days=before) for before in range(0, 290, 7)):
        rows = book.gear.rows(day, recorded=recorded)
        if not rows:
            with pytest.raises(NotFoundError):
                book.gear.card(item_id, day, recorded=recorded)
            continue
        card = book.gear.card(item_id, day, recorded=recorded)
        told = (rows[0].status, rows[0].due, rows[0].life_end, rows[0].gaps)
        assert told == (card.status, card.due, card.life_end, card.gaps), day
        assert f"\n{card.status.replace('-', ' ')}\n" in f"\n{rows[0].search}\n"
