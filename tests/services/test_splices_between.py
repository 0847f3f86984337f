"""Splices between the ends lie at their metre through every cut, and go with the piece in which they lie."""

from __future__ import annotations

from datetime import date

import pytest

from gearlog.domain.inspection import InspectionKind
from gearlog.domain.item import Item
from gearlog.domain.splice import Splice
from gearlog.services.book import Book
from tests.making import GOOD, NEW_ROPE

THOROUGH = InspectionKind.THOROUGH


def join(book: Book, rope: Item, at: str, *, outcome: str = "good", on: str = "2025-02-01") -> Splice:
    form = {"rope": rope.tag, "end": "between", "position": at, "method": "hollow-end-to-end", "made_on": on}
    return book.diary.record(book.diary.blank_form() | NEW_ROPE | form | {"outcome": outcome}, None)


def piece(book: Book, rope: Item, length: str, end: str, on: str = "2025-03-01") -> Item:
    form = {"name": "piece", "length_bought": length, "parent_end": end, "cut_on": on}
    return book.gear.add(book.gear.form_for_piece(rope.id) | form)


def places(book: Book, item: Item) -> dict[str, float]:
    return dict(book.gear.card(item.id).places)


@pytest.mark.parametrize(
    ("at", "end", "parent_at", "piece_at"),
    [
        ("12 m", "A", None, 12.0),  # of 45 m the first 20 m went
        ("30 m", "A", 10.0, None),
        ("12 m", "B", 12.0, None),  # the last 20 m went, from 25 m on
        ("30 m", "B", None, 5.0),
    ],
)
def test_it_is_on_one_of_the_two_and_at_its_metre(
    book: Book, rope: Item, at: str, end: str, parent_at: float | None, piece_at: float | None
) -> None:
    made = join(book, rope, at)
    cut = piece(book, rope, "20 m", end)
    assert places(book, rope).get(made.id) == parent_at
    assert places(book, cut).get(made.id) == piece_at
    card = book.gear.card(cut.id)
    assert [row.splice.id for row in card.splices] == ([made.id] if piece_at is not None else [])
    along = book.gear.along(card)
    assert along is not None
    assert [mark.from_m for mark in along.marks] == ([piece_at] if piece_at is not None else [])
    book.gear.cut(cut.id, {"cut_as": "trim", "cut_end": "A", "length": "2 m", "happened_on": "2025-04-01"})
    assert places(book, cut).get(made.id) == (piece_at - 2 if piece_at is not None else None)
    assert places(book, cut) == dict(book.gear.card(cut.id, date(2025, 5, 1)).places)
    assert book.gear.card(cut.id, date(2025, 3, 15)).places.get(made.id) == piece_at


def test_a_piece_of_a_piece_takes_it_too(book: Book, rope: Item) -> None:
    made = join(book, rope, "12 m")
    second = piece(book, piece(book, rope, "20 m", "A"), "15 m", "B", "2025-04-01")
    assert places(book, second) == {made.id: 7.0}


def test_what_failed_or_was_made_after_the_cut_is_not_on_the_piece(book: Book, rope: Item) -> None:
    join(book, rope, "11 m", outcome="failed")
    cut = piece(book, rope, "20 m", "A")
    later = join(book, rope, "5 m", on="2025-04-01")
    assert places(book, cut) == {}
    assert places(book, rope) == {later.id: 5.0}


def test_a_correction_on_the_day_of_a_cut_leaves_it_at_its_metre(book: Book, rope: Item) -> None:
    made = join(book, rope, "12 m", on="2025-03-01")
    book.gear.cut(rope.id, {"cut_as": "trim", "cut_end": "A", "length": "2 m", "happened_on": "2025-03-01"})
    form = book.diary.form_of(made.id) | {"notes": "by lamplight"}
    mended = book.diary.correct(made.id, form, "a note was missing")
    assert places(book, rope) == {mended.id: 10.0}


def test_an_inspection_asks_for_it_where_it_lies_now(book: Book, rope: Item) -> None:
    made = join(book, rope, "12 m")
    cut = piece(book, rope, "20 m", "B")
    book.gear.cut(rope.id, {"cut_as": "trim", "cut_end": "A", "length": "2 m", "happened_on": "2025-04-01"})
    asked = [line for line in book.inspecting.sheet(rope.id, THOROUGH).lines if line.key.endswith(f"@{made.id}")]
    assert {line.key.partition("@")[0] for line in asked} >= {"splice-tail", "splice-bury"}
    assert all(line.look.startswith("At 10 m: ") for line in asked)
    join(book, rope, "10 m", on="2025-05-01")  # another one there: the date tells them apart
    lines = book.inspecting.sheet(rope.id, THOROUGH).lines
    assert any(line.look.startswith("Splice of 2025-02-01 at 10 m: ") for line in lines)
    assert any(line.look.startswith("Splice of 2025-05-01 at 10 m: ") for line in lines)
    assert not any("@" in line.key for line in book.inspecting.sheet(cut.id, THOROUGH).lines)


def test_the_story_of_a_piece_tells_its_splices_in_the_order_of_time(book: Book, rope: Item) -> None:
    join(book, rope, "12 m")
    book.gear.record_event(rope.id, {"kind": "washed", "happened_on": "2025-02-10"})
    cut = piece(book, rope, "20 m", "A")
    join(book, cut, "3 m", on="2025-04-01")
    story = [(entry.on, entry.what, entry.inherited) for entry in book.gear.card(cut.id).story]
    assert story == [
        ("2025-02-01", "spliced", True), ("2025-02-10", "washed", True), ("2025-03-01", "cut", True),
        ("2025-04-01", "spliced", False),
    ]  # fmt: skip


def test_an_audit_tells_where_it_lies_now_and_what_was_cut_off(book: Book, rope: Item) -> None:
    join(book, rope, "12 m")
    cut = piece(book, rope, "20 m", "A")
    join(book, rope, "5 m", on="2025-04-01")
    for name, method, end in (("stitched", "lock-stitch", "A"), ("whipped", "whip-common", "B")):
        form = {"rope": rope.tag, "end": end, "method": method, "made_on": "2025-04-02"} | GOOD | NEW_ROPE
        book.diary.record(book.diary.blank_form() | form | {"notes": name}, None)
    book.gear.cut(rope.id, {"cut_as": "trim", "cut_end": "A", "length": "2 m", "happened_on": "2025-04-03"})
    book.gear.cut(cut.id, {"cut_as": "end", "cut_end": "B", "length": "10 m", "happened_on": "2025-04-03"})
    audit = book.auditing.audit(book.auditing.wanted(book.auditing.blank_form()))
    told = {(one.tag, one.end): one.stands for one in audit.splices}
    assert told[(rope.tag, "at 3 m")] == "in the rope"
    assert told[(rope.tag, "A")] == "no longer at its end"
    assert told[(rope.tag, "B")] == "at its end"
    assert told[(cut.tag, "at 12 m")] == "cut off with its part of the rope"
