"""Every kind of change is taken back and done again exactly, one step at a time, also in a later session."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from gearlog.domain.inspection import InspectionKind, Mark
from gearlog.domain.record import Record
from gearlog.domain.vocabulary import EventKind
from gearlog.services.book import Book
from gearlog.storage.codec import TABLES
from tests.faults.conftest import opened
from tests.making import GOOD
from tests.services.test_inspecting import WHO
from tests.services.test_standing import BY
from tests.services.test_strength_tests import BROKE

State = Mapping[str, tuple[Record, ...]]
HAND = {"to": "AB", "by": "CD", "happened_on": "2025-06-01"}
LIST = b"Tag,Name,Category\nfrom-list-1,one,connector\nfrom-list-2,two,connector\n"


def rope(book: Book) -> str:
    return book.gear.by_tag("rope").id


def splice(book: Book) -> str:
    return next(row.splice.id for row in book.diary.rows() if row.splice.end == "A")


def bench(book: Book) -> str:
    return book.bench.open_views()[0].id


def change(book: Book) -> None:
    book.gear.change(rope(book), {"name": "another name", "tag": "rope", "assigned_to": "XY"})


def several(book: Book) -> None:
    book.gear.add_many({"name": "connector", "category": "connector"}, "F101..F104")


def event(book: Book) -> None:
    book.gear.record_event(rope(book), book.gear.blank_event() | {"kind": "dropped"})


def strike(book: Book) -> None:
    book.gear.strike(book.gear.card(rope(book)).events[0].id, "typed by mistake")


def piece(book: Book) -> None:
    form = book.gear.form_for_piece(rope(book))
    book.gear.add(form | {"name": "piece", "tag": "piece", "length_bought": "2 m", "parent_end": "B"})


def cut_with_the_splice_on_it(book: Book) -> None:
    book.gear.cut(rope(book), {"cut_as": "end", "cut_end": "A", "length": "3 m", "happened_on": "2025-06-01"})


def trim(book: Book) -> None:
    book.gear.cut(rope(book), {"cut_as": "trim", "cut_end": "B", "length": "10 cm", "happened_on": "2025-06-01"})


def record(book: Book) -> None:
    form = book.diary.form_like(splice(book))
    book.diary.record({**form, "end": "B", "made_on": "2025-05-20", "outcome": "good"}, None)


def correct(book: Book) -> None:
    book.diary.correct(splice(book), book.diary.form_of(splice(book)) | {"notes": "other words"}, "a slip")


def photo(book: Book) -> None:
    assert book.folder is not None
    taken = book.folder.with_name("eye.jpg")
    taken.write_bytes(b"a picture")
    book.diary.add_photo(splice(book), str(taken))


def break_it(book: Book) -> None:
    book.strength.record(splice(book), book.strength.blank_form() | BROKE)


def inspect_and_fail(book: Book) -> None:
    sheet = book.inspecting.sheet(rope(book), InspectionKind.THOROUGH)
    for line in sheet.lines:
        sheet = sheet.see(line.key)
    book.inspecting.record(sheet.answer(sheet.lines[0].key, Mark.FAIL, "cut strands").pass_rest(), WHO)


def quarantine(book: Book) -> None:
    book.standing.decide(rope(book), EventKind.QUARANTINED, BY)


def retire(book: Book) -> None:
    book.standing.decide(rope(book), EventKind.RETIRED, BY)


def assign(book: Book) -> None:
    book.standing.assign(rope(book), HAND)


def lend_and_give_back(book: Book) -> None:
    book.standing.lend(rope(book), HAND)
    book.standing.give_back(rope(book), HAND)


def kit_with_the_rope_handed_over(book: Book) -> None:
    kit = book.kits.add(book.kits.blank_form() | {"name": "kit of AB"})
    book.kits.put(kit.id, "rope")
    book.kits.assign(kit.id, "EF")
    book.kits.take(kit.id, rope(book))


def take_in(book: Book) -> None:
    book.importing.take_in(LIST, "list.csv")


def press_measure_remark_and_finish(book: Book) -> None:
    view = book.bench.enter(bench(book))
    book.bench.remark(view.id, "stiff")
    for _ in view.plan.guide:
        book.bench.done(view.id)
    book.bench.finish(view.id, book.bench.finish_form(view.id) | GOOD)


def give_up_with_a_cut(book: Book) -> None:
    book.bench.give_up(bench(book), "strand broke", cut_length="0.6 m")


ACTS: tuple[Callable[[Book], None], ...] = (
    change, several, event, strike, piece, cut_with_the_splice_on_it, trim, record, correct, photo, break_it,
    inspect_and_fail, quarantine, retire, assign, lend_and_give_back, kit_with_the_rope_handed_over, take_in,
    press_measure_remark_and_finish, give_up_with_a_cut,
)  # fmt: skip


def state(book: Book) -> State:
    """All records of every kind."""
    return {name: book._store.records(kind) for kind, name in TABLES.items()}


def number(book: Book) -> int:
    """The number of the last save."""
    return book._store._ledger._log.n


@pytest.mark.parametrize("later", [False, True])
@pytest.mark.parametrize("act", ACTS)
def test_what_an_act_changed_is_taken_back_and_done_again_step_by_step(
    folder: Path, act: Callable[[Book], None], *, later: bool
) -> None:
    with opened(folder) as book:
        before, first = state(book), number(book)
        act(book)
        after, steps = state(book), number(book) - first
        assert steps > 0
        if not later:
            taken_back_and_done_again(book, steps, before, after)
            return
    with opened(folder) as book:
        taken_back_and_done_again(book, steps, before, after)
        for _ in range(steps):
            book.undo()
    with opened(folder) as book:
        assert state(book) == before
        for _ in range(steps):
            assert book.redo()
        assert state(book) == after


def taken_back_and_done_again(book: Book, steps: int, before: State, after: State) -> None:
    for step in range(steps):
        assert state(book) != before, step
        assert book.last_change()
        assert book.undo()
    assert state(book) == before
    for step in range(steps):
        assert state(book) != after, step
        assert book.redo()
    assert state(book) == after


def test_a_whole_session_is_taken_back_in_the_next_one_to_each_state_it_went_through(folder: Path) -> None:
    """Also with restarts in the middle of taking back."""
    together = (event, change, several, piece, take_in, photo, correct, trim, assign, inspect_and_fail)
    states: list[State] = []
    with opened(folder) as book:
        for act in together:
            states.append(state(book))
            act(book)
    for expected in reversed(states):
        with opened(folder) as book:
            assert book.undo()
            assert state(book) == expected
