"""A book on a memory log as of a fixed day, with one rope in it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

import pytest

from gearlog.domain.item import Item
from gearlog.domain.plan import Plan
from gearlog.errors import InvalidRecordError
from gearlog.services.book import Book, memory_book

TODAY = date(2025, 6, 1)
HOLLOW = {
    "name": "long climbing line",
    "category": "lifeline",
    "maker": "Maker A",
    "construction": "hollow-braid",
    "strands": "12",
    "lay": "loose",
    "cover_fibre": "polyester",
    "diameter": "12 mm",
    "length_bought": "45 m",
    "breaking_strength": "24 kN",
    "bought_on": "2025-01",
}
EYE = {"method": "hollow-eye", "eye": "150 mm", "pin": "50 mm"}


@pytest.fixture
def book() -> Book:
    return memory_book(today=lambda: TODAY)


@pytest.fixture
def rope(book: Book) -> Item:
    return book.gear.add(HOLLOW)


@pytest.fixture
def plan(book: Book, rope: Item) -> Plan:
    """A buried eye of 150 mm planned at end A: marks at 0.504, 0.804 and 1.308 m."""
    return book.planner.plan(book.planner.form_for(rope.id, "A") | EYE)


Faults = Callable[[Callable[[], object]], Mapping[str, str]]


@pytest.fixture
def faults() -> Faults:
    """What a call refuses: field -> 'reason; way out' of its first fault."""

    def of(call: Callable[[], object]) -> dict[str, str]:
        with pytest.raises(InvalidRecordError) as refused:
            call()
        found: dict[str, str] = {}
        for fault in refused.value.faults:
            assert fault.reason
            assert fault.way_out
            found.setdefault(fault.field, f"{fault.reason}; {fault.way_out}")
        return found

    return of
