"""A cut within a splice leaves none: neither where its end was, nor on the piece, whichever end was measured from."""

from __future__ import annotations

import pytest

from gearlog.domain.item import Item
from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import End, EndState
from gearlog.services.book import Book
from gearlog.services.cut_through import met
from tests.making import GOOD, NEW_ROPE, made_form


def cut(book: Book, rope: Item, end: str, length: str, what: str = "trim") -> None:
    book.gear.cut(rope.id, {"cut_as": what, "cut_end": end, "length": length, "happened_on": "2025-06-01"})


def asked(book: Book, rope: Item, end: End, cut_m: float) -> set[str]:
    card = book.gear.card(rope.id)
    return set(met(card.ends, end, cut_m, card.length_now_m))


@pytest.fixture
def spliced(book: Book, rope: Item, plan: Plan) -> Item:
    book.diary.record(made_form(book, plan) | {"made_on": "2025-05-01"}, plan)
    return rope


@pytest.mark.parametrize(
    ("end", "length", "through", "why"),
    [  # its last mark lies at 1.308 m
        ("A", "1.3 m", True, "cut through the splice of 2025-05-01"),
        ("A", "0.1 m", True, "cut through the splice of 2025-05-01"),
        ("A", "1.31 m", False, "cut since the splice of 2025-05-01"),
        ("B", "43.7 m", True, "cut through the splice of 2025-05-01"),
        ("B", "43.6 m", False, "spliced 2025-05-01"),
    ],
)
def test_it_is_told_before_it_is_cut_and_the_end_is_no_splice_afterwards(
    book: Book, spliced: Item, end: str, length: str, through: bool, why: str
) -> None:
    assert book.gear.card(spliced.id).length_now_m == 45
    assert asked(book, spliced, End(end), float(length.split(maxsplit=1)[0])) == ({"A"} if through else set())
    cut(book, spliced, end, length)
    view = book.gear.card(spliced.id).ends[End.A]
    assert view.why == why
    assert (view.state is EndState.SPLICED, view.splice is not None) == ((why.startswith("spliced"),) * 2)


def test_cuts_that_together_take_all_of_it_leave_nothing_inside(book: Book, spliced: Item) -> None:
    cut(book, spliced, "A", "0.7 m")
    assert "cut through" in book.gear.card(spliced.id).ends[End.A].why
    cut(book, spliced, "A", "0.7 m")
    assert book.gear.card(spliced.id).ends[End.A].words == "bare, cut since the splice of 2025-05-01"


def test_of_what_was_cut_off_to_remake_it_no_cut_through_it_is_claimed(book: Book, rope: Item, plan: Plan) -> None:
    remade = {"made_on": "2025-05-01", "outcome": "remade", "cut_length": "0.6 m"}
    book.diary.record(made_form(book, plan) | remade, plan)
    assert book.gear.card(rope.id).ends[End.A].words == "bare, cut since the splice of 2025-05-01"


@pytest.mark.parametrize(("length", "state"), [("1.2 m", EndState.BARE), ("1.4 m", EndState.SPLICED)])
def test_a_piece_cut_within_the_splice_takes_no_splice_with_it(
    book: Book, spliced: Item, length: str, state: EndState
) -> None:
    form = book.gear.form_for_piece(spliced.id) | {"name": "short", "length_bought": length, "parent_end": "A"}
    piece = book.gear.add(form)
    assert piece.rope is not None
    assert piece.rope.end_a is state
    assert book.gear.card(piece.id).ends[End.A].state is state
    assert book.gear.card(spliced.id).ends[End.A].state is EndState.BARE


def test_the_rest_of_a_rope_of_which_a_piece_took_all_but_the_splice_has_none(book: Book, spliced: Item) -> None:
    form = book.gear.form_for_piece(spliced.id) | {"name": "long", "length_bought": "44 m", "parent_end": "B"}
    piece = book.gear.add(form)
    assert book.gear.card(spliced.id).ends[End.A].words == "bare, cut through the splice of 2025-05-01"
    assert book.gear.card(piece.id).ends[End.A].state is EndState.BARE


def test_of_a_splice_without_a_plan_nothing_is_claimed(book: Book, rope: Item) -> None:
    form = book.diary.blank_form() | {"rope": rope.tag, "end": "A", "method": "other", "made_on": "2025-05-01"}
    book.diary.record(form | GOOD | NEW_ROPE, None)
    assert asked(book, rope, End.A, 0.1) == set()
    cut(book, rope, "B", "44.9 m")
    assert book.gear.card(rope.id).ends[End.A].state is EndState.SPLICED


def test_a_length_typed_too_short_is_no_cut_through_the_splice(book: Book, spliced: Item) -> None:
    book.gear.change(spliced.id, {"length_bought": "1.1 m"})
    assert book.gear.card(spliced.id).ends[End.A].state is EndState.SPLICED
