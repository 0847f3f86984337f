"""Tests of strength: entered, refused where they cannot be, followed through corrections, struck out with a reason."""

from __future__ import annotations

import pytest

from gearlog.domain.item import Item
from gearlog.domain.plan import Plan
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Status
from gearlog.errors import NotFoundError
from gearlog.services.book import Book
from tests.making import made_form
from tests.services.conftest import Faults

BROKE = {
    "kind": "break", "force": "21.4 kN", "failed_at": "end of the bury", "pin": "50 mm", "machine": "ram [/]",
    "place": "yard",
}  # fmt: skip


@pytest.fixture
def splice(book: Book, plan: Plan) -> Splice:
    return book.diary.record(made_form(book, plan) | {"made_on": "2025-05-01"}, plan)


def test_a_break_is_kept_as_typed_and_quarantines_the_rope(book: Book, rope: Item, splice: Splice) -> None:
    test = book.strength.record(splice.id, book.strength.blank_form() | BROKE)
    assert book.strength.of(splice.id) == (test,)
    kept = (test.kind.value, str(test.force), str(test.pin), test.failed_at.value, test.tested_on.text)
    assert kept == ("break", "21.4 kN", "50 mm", "end-of-the-bury", "2025-06-01")
    assert book.gear.card(rope.id).status is Status.QUARANTINED
    assert book.undo() == f"test of strength in {rope.tag}"
    assert (book.strength.of(splice.id), book.gear.card(rope.id).status) == ((), Status.IN_SERVICE)


def test_a_proof_load_that_held_leaves_the_rope_in_service(book: Book, rope: Item, splice: Splice) -> None:
    book.strength.record(splice.id, book.strength.blank_form() | {"kind": "proof", "force": "10 kN"})
    assert book.gear.card(rope.id).status is Status.IN_SERVICE


def test_a_test_stays_with_its_splice_when_that_is_corrected(book: Book, splice: Splice, faults: Faults) -> None:
    test = book.strength.record(splice.id, book.strength.blank_form() | BROKE)
    newer = book.diary.correct(splice.id, book.diary.form_of(splice.id) | {"minutes": "50"}, "no clock")
    assert book.strength.of(newer.id) == (test,) == book.strength.of(splice.id)
    assert set(faults(lambda: book.strength.strike(test.id, " "))) == {"struck_because"}
    book.strength.strike(test.id, "load cell was off")
    assert book.strength.of(newer.id) == ()
    with pytest.raises(NotFoundError):
        book.strength.strike("nothing", "why")
    with pytest.raises(NotFoundError):
        book.strength.of("nothing")


def test_whether_it_broke_or_held_is_never_filled_in(book: Book) -> None:
    assert book.strength.blank_form()["kind"] == ""


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"kind": ""}, "kind"),
        ({"force": ""}, "force"),
        ({"force": "21 kg"}, "force"),
        ({"force": "0 kN"}, "force"),
        ({"failed_at": ""}, "failed_at"),
        ({"kind": "proof"}, "failed_at"),
        ({"failed_at": "somewhere"}, "failed_at"),
        ({"tested_on": "2025-07-01"}, "tested_on"),
        ({"tested_on": "2025-04"}, "tested_on"),
        ({"pin": "-1 mm"}, "pin"),
    ],
)
def test_a_test_that_cannot_be_is_refused_by_its_field(
    book: Book, splice: Splice, faults: Faults, change: dict[str, str], field: str
) -> None:
    form = book.strength.blank_form() | BROKE | change
    assert set(faults(lambda: book.strength.record(splice.id, form))) == {field}
    assert book.strength.of(splice.id) == ()
