from __future__ import annotations

from collections.abc import Callable, Mapping

import pytest

from gearlog.domain.item import Item
from gearlog.domain.plan import Plan
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, EndState, Outcome
from gearlog.errors import NotFoundError
from gearlog.services.book import Book
from tests.making import GOOD, NEW_ROPE, made_form
from tests.services.conftest import EYE

Faults = Callable[[Callable[[], object]], Mapping[str, str]]
MADE = {
    "measured.1": "503 mm",
    "measured.3": "1.31 m",
    "finished_eye": "147 mm",
    "minutes": "48",
    "outcome": "usable-with-remark",
    "difficulties": "stiff rope, Tail stuck",
    "ease": "3",
    "notes": "tail [/] stuck",
}


@pytest.fixture
def splice(book: Book, plan: Plan) -> Splice:
    return book.diary.record(made_form(book, plan) | MADE | {"finish": "whipping, lock-stitch"}, plan)


def test_a_record_keeps_the_whole_plan_and_what_was_measured_as_typed(book: Book, plan: Plan, splice: Splice) -> None:
    kept = book.diary.splice(splice.id)
    assert kept.plan == plan
    assert [(one.mark, one.at.text) for one in kept.measured] == [("1", "503 mm"), ("3", "1.31 m")]
    assert (kept.end, kept.method, kept.outcome) == (End.A, "hollow-eye", Outcome.REMARK)
    assert [word.value for word in kept.difficulties] == ["stiff rope", "tail stuck"]
    assert kept.made_on.text == "2025-06-01"


def test_the_form_of_a_plan_leaves_only_what_was_done_to_type(book: Book, rope: Item) -> None:
    book.keep(user="k.l.")
    typed = {"method": "hollow-eye", "eye": "150 mm", "fid": "260 mm", "condition": "used"}
    plan = book.planner.plan(book.planner.form_for(rope.id, "B") | typed)
    form = made_form(book, plan)
    filled = {name: text for name, text in form.items() if text}
    assert filled == {
        "rope": rope.tag,
        "end": "B",
        "method": "hollow-eye",
        "made_on": "2025-06-01",
        "outcome": "good",
        "tools": "fid",
        "condition": "used",
        "made_by": "k.l.",
    }
    assert {f"measured.{mark.id}" for mark in plan.marks} < set(form)


def test_a_record_tells_no_finish_that_nobody_entered(book: Book, rope: Item) -> None:
    """The plan asks for a lock stitch and a whipping; that they were made only the splicer can say."""
    plan = book.planner.plan(book.planner.form_for(rope.id, "B") | {"method": "hollow-eye", "eye": "150 mm"})
    assert "lock stitch" in plan.finish
    assert book.diary.record(made_form(book, plan), plan).finish == ()
    bench = book.bench.start(
        book.planner.plan(book.planner.form_for(rope.id, "A") | {"method": "hollow-eye", "eye": "150 mm"})
    )
    given_up = book.bench.give_up(bench.id, "tail stuck")
    assert given_up is not None
    assert given_up.finish == ()


def test_measured_against_planned(book: Book, splice: Splice) -> None:
    found = {one.mark_id: one for one in book.diary.comparison(splice)}
    assert found["1"].planned_m == pytest.approx(0.504, abs=1e-12)
    assert found["1"].difference_m == pytest.approx(-0.001, abs=1e-12)
    assert found["3"].difference_m == pytest.approx(0.002, abs=1e-12)
    assert (found["2"].measured, found["2"].difference_m) == (None, None)


def test_a_mark_may_be_measured_at_the_very_end(book: Book, plan: Plan) -> None:
    splice = book.diary.record(made_form(book, plan) | {"measured.taper": "0 mm"}, plan)
    assert book.diary.splice(splice.id).measured[0].at.si == 0


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"rope": "nobody"}, "rope"),
        ({"rope": ""}, "rope"),
        ({"rope": "helmet"}, "rope"),
        ({"end": "C"}, "end"),
        ({"end": "between"}, "position"),
        ({"method": "laid-eye"}, "method"),
        ({"made_on": "2025-07-01"}, "made_on"),
        ({"measured.1": "503"}, "measured.1"),
        ({"measured.9": "503 mm"}, "measured.9"),
        ({"finished_eye": "-1 mm"}, "finished_eye"),
        ({"ease": "6"}, "ease"),
        ({"minutes": "4.5"}, "minutes"),
        ({"difficulties": "stiff rope, bad luck"}, "difficulties"),
    ],
)
def test_a_record_that_cannot_be_is_refused_by_its_field(
    book: Book, plan: Plan, faults: Faults, change: dict[str, str], field: str
) -> None:
    book.gear.add({"name": "helmet", "category": "helmet"})
    form = made_form(book, plan) | change
    assert set(faults(lambda: book.diary.record(form, plan))) == {field}
    assert book.diary.rows() == ()


def test_a_splice_without_a_plan_or_by_another_method_is_recorded_too(book: Book, rope: Item) -> None:
    form = book.diary.blank_form() | {"rope": rope.tag, "end": "between", "position": "12 m", "method": "other"}
    form |= GOOD | NEW_ROPE
    splice = book.diary.record(form, None)
    (row,) = book.diary.rows()
    assert (row.end, row.splice, book.diary.comparison(splice)) == ("at 12 m", splice, ())


def test_a_correction_is_a_new_version_and_the_old_one_stays(book: Book, splice: Splice) -> None:
    form = book.diary.form_of(splice.id)
    newer = book.diary.correct(splice.id, form | {"finished_eye": "149 mm"}, "misread the tape")
    newest = book.diary.correct(newer.id, book.diary.form_of(newer.id) | {"minutes": ""}, "no clock")
    assert [row.splice for row in book.diary.rows()] == [newest]
    assert book.diary.versions(splice.id) == (newest, newer, splice) == book.diary.versions(newest.id)
    assert newest.plan == splice.plan
    assert newest.measured == splice.measured
    assert (newest.corrects, newest.correction_reason) == (newer.id, "no clock")


def test_a_correction_without_a_reason_or_of_an_old_version_is_refused(
    book: Book, splice: Splice, faults: Faults
) -> None:
    form = book.diary.form_of(splice.id)
    assert set(faults(lambda: book.diary.correct(splice.id, form, " "))) == {"correction_reason"}
    book.diary.correct(splice.id, form, "misread the tape")
    assert set(faults(lambda: book.diary.correct(splice.id, form, "again"))) == {"corrects"}
    with pytest.raises(NotFoundError):
        book.diary.correct("nothing", form, "why")


def test_a_correction_may_name_another_rope_and_both_cards_follow(book: Book, rope: Item, splice: Splice) -> None:
    other = book.gear.add({"name": "other", "category": "sling", "construction": "hollow-braid"})
    book.diary.correct(splice.id, book.diary.form_of(splice.id) | {"rope": "other"}, "wrong tag")
    states = [book.gear.card(item.id).ends[End.A].state for item in (rope, other)]
    assert states == [EndState.BARE, EndState.SPLICED]


@pytest.mark.parametrize(("outcome", "state"), [("good", EndState.SPLICED), ("remade", EndState.SPLICED),
                                                ("failed", EndState.BARE), ("cut-off", EndState.BARE)])  # fmt: skip
def test_a_splice_that_failed_or_was_cut_off_leaves_the_end_bare(
    book: Book, rope: Item, plan: Plan, outcome: str, state: EndState
) -> None:
    book.diary.record(made_form(book, plan) | {"outcome": outcome}, plan)
    assert book.gear.card(rope.id).ends[End.A].state is state


def test_only_tools_that_the_plan_pulls_with_are_filled_in(book: Book, rope: Item) -> None:
    """What lay at hand was not used for that; what the plan needs for its pulls most likely was."""
    typed = EYE | {"fid": "600 mm", "fid_thickness": "5 mm", "tool": "short fid:200 mm, wire fid:900 mm:3 mm"}
    plan = book.planner.plan(book.planner.form_for(rope.id, "A") | typed)
    named = {pull.tool for pull in plan.pulls}
    assert 0 < len(named) < len(plan.inputs.tools)
    assert set(book.diary.form_from_plan(plan)["tools"].split(", ")) == named
    untold = book.planner.plan(book.planner.form_for(rope.id, "A") | EYE)
    assert book.diary.form_from_plan(untold)["tools"] == ""


def test_end_outcome_and_condition_are_never_chosen_for_the_user(
    book: Book, rope: Item, plan: Plan, faults: Faults
) -> None:
    assert {book.diary.blank_form()[name] for name in ("end", "outcome", "condition")} == {""}
    from_plan = book.diary.form_from_plan(plan)
    assert (from_plan["outcome"], from_plan["condition"]) == ("", "new"), "the plan's condition was chosen in the plan"
    empty = book.diary.blank_form() | {"rope": rope.tag, "method": "hollow-eye"}
    assert set(faults(lambda: book.diary.record(empty, None))) == {"end", "outcome", "condition"}
    assert book.diary.rows() == ()


def test_a_mark_is_asked_for_from_where_the_plans_distances_begin(book: Book, rope: Item) -> None:
    typed = {"method": "hollow-sling", "shortest": "2.5 m", "longest": "3 m", "pin": "50 mm", "eye": "150 mm"}
    sling = book.planner.plan(book.planner.form_for(rope.id, "A") | typed)
    hints = {field.hint for field in book.diary.fields(sling) if field.name.startswith("measured.")}
    assert hints == {"from the free end"}


def test_copy_as_new_takes_the_settings_and_not_what_was_found(book: Book, splice: Splice) -> None:
    book.keep(user="m.n.")
    like = book.diary.form_like(splice.id)
    filled = {name: text for name, text in like.items() if text}
    assert filled == {
        "rope": "long-climbing-line",
        "end": "A",
        "method": "hollow-eye",
        "made_on": "2025-06-01",
        "condition": "new",
        "finish": "whipping, lock-stitch",
        "made_by": "m.n.",
    }
    assert set(like) == set(book.diary.form_of(splice.id))
    for plan in (None, splice.plan):
        assert book.diary.record(like | GOOD, plan).measured == ()


def test_a_copy_on_another_rope_keeps_the_plan_only_where_its_numbers_hold_there(
    book: Book, rope: Item, splice: Splice, faults: Faults
) -> None:
    form_of = book.gear.form_of(rope.id) | {"parent": "", "tag": ""}
    twin = book.gear.add(form_of | {"name": "its twin"})
    thicker = book.gear.add(form_of | {"name": "a thicker one", "diameter": "16 mm"})
    like = book.diary.form_like(splice.id)
    on_twin = book.diary.record(like | GOOD | {"rope": twin.tag}, splice.plan)
    assert on_twin.plan is not None
    assert on_twin.plan.inputs.rope_id == twin.id
    on_thicker = like | GOOD | {"rope": thicker.tag}
    assert book.diary.record(on_thicker, splice.plan).plan is None
    measured = on_thicker | {"measured.1": "503 mm"}
    assert "another kind" in faults(lambda: book.diary.record(measured, splice.plan))["rope"]


def test_the_diary_is_newest_first_by_the_day_it_was_made(book: Book, rope: Item) -> None:
    form = book.diary.blank_form() | {"rope": rope.tag, "end": "A", "method": "hollow-eye"} | GOOD | NEW_ROPE
    for day in ("2025-03", "2025-05-01", "2024", "2025-03-31"):
        book.diary.record(form | {"made_on": day}, None)
    assert [row.made_on.text for row in book.diary.rows()] == ["2025-05-01", "2025-03-31", "2025-03", "2024"]
    assert [row.splice for row in book.gear.card(rope.id).splices] == [row.splice for row in book.diary.rows()]


def test_a_filter_finds_a_splice_by_rope_method_difficulty_and_remark(book: Book, splice: Splice) -> None:
    (row,) = book.diary.rows()
    assert all(word in row.search for word in ("long-climbing-line", "buried eye", "tail stuck", "[/]", "remark"))
    book.gear.change(splice.rope_id, book.gear.form_of(splice.rope_id) | {"name": "Short"})
    assert book.diary.rows()[0].rope_name == "Short"
