"""What the planner shows of each method: the pages below the screen, so that all of them are tried."""

from __future__ import annotations

import re

import pytest

from gearlog.domain.plan import Plan
from gearlog.services.book import Book
from gearlog.tui.widgets.plan_form import GROUPS, arranged
from gearlog.tui.widgets.plan_pages import PlanPages
from gearlog.tui.widgets.plan_state import PlanState
from gearlog.tui.widgets.plan_why import why_lines
from tests.tui.shapes import FORMS

WIDTH = 76


def state_of(book: Book, method: str, **more: str) -> PlanState:
    return PlanState().after(book.planner.blank_form() | FORMS[method] | {"method": method} | more, book.planner)


def plan_of(book: Book, method: str, **more: str) -> Plan:
    state = state_of(book, method, **more)
    assert state.plan is not None
    assert state.current, state.faults
    return state.plan


def test_every_method_that_comes_with_the_program_has_its_form_here(book: Book) -> None:
    assert {method.id for method in book.planner.methods()} == set(FORMS)


def test_every_field_of_the_planner_has_its_place_in_the_form(book: Book) -> None:
    placed = [name for _, names in GROUPS for name in names]
    assert sorted(placed) == sorted(field.name for field in book.planner.fields())
    assert [field.name for field in arranged(book.planner.fields())] == placed


@pytest.mark.parametrize("method", FORMS)
def test_each_method_is_planned_shown_in_steps_and_explained_number_by_number(book: Book, method: str) -> None:
    plan = plan_of(book, method)
    assert not plan.stopped
    pages = PlanPages(book)
    lines = pages.page("plan", PlanState(plan), {})(WIDTH)
    shown = "\n".join(line.text for line in lines)
    assert all(len(line.text) <= WIDTH for line in lines)
    for heading in ("Marks, from the", "Strength", "Tools", "Checks", "Before you cut"):
        assert heading in shown
    for mark in plan.marks:
        assert mark.name in " ".join(shown.split())
    explained = pages.explained(plan)
    for line in lines:
        if line.key:
            told = why_lines(explained, line.key, WIDTH)
            assert any("formula" in each.text for each in told), line.key
    assert "1." in "\n".join(line.text for line in pages.page("steps", PlanState(plan), {})(WIDTH))


@pytest.mark.parametrize("method", [name for name, form in FORMS.items() if form.keys() & {"finished", "longest"}])
def test_the_length_to_cut_stands_first_where_a_finished_length_is_wanted(book: Book, method: str) -> None:
    plan = plan_of(book, method)
    assert plan.finished is not None
    lines = PlanPages(book).page("plan", PlanState(plan), {})(WIDTH)
    cut = re.fullmatch(r"CUT LENGTH ([\d.]+) (mm|m)", lines[0].text)
    assert cut is not None
    metres = float(cut[1]) / (1000 if cut[2] == "mm" else 1)
    assert metres == pytest.approx(plan.finished.cut_m, abs=0.004)
    assert metres >= plan.finished.cut_m - 0.0005
    word, words = PlanState(plan).headline({})
    assert (word, words.partition(";")[0]) == ("PLAN", f"cut {cut[1]} {cut[2]}")


def test_a_rope_of_known_length_tells_the_finished_length_instead(book: Book) -> None:
    plan = plan_of(book, "hollow-eye")
    shown = [line.text for line in PlanPages(book).page("plan", PlanState(plan), {})(WIDTH)]
    assert plan.finished is not None
    assert plan.finished.wanted is False
    assert shown[0].startswith("FINISHED LENGTH")
    assert any("for a cut length of 10" in line for line in shown)


def test_a_plan_that_stops_shows_the_stop_first_and_no_length_to_cut_by(book: Book) -> None:
    state = state_of(book, "hollow-loop", lay="tight")
    assert state.plan is not None
    assert state.plan.stopped
    shown = "\n".join(line.text for line in PlanPages(book).page("plan", state, {})(WIDTH))
    assert shown.startswith("STOP")
    assert "CUT LENGTH" not in shown
    assert shown.count("STOP") == 1


def test_the_weakest_part_is_named_and_what_is_unknown_too(book: Book) -> None:
    shown = _words(book, plan_of(book, "hollow-eye"))
    # a bowline keeps 0.63 of 30 kN; over ten it bears less than the connector of 23 kN over five
    assert "Weakest part that is known: bowline at 18.9 kN" in shown
    assert "Not known: this splice." in shown
    assert "Weakest part: this splice at 25.5 kN" in _words(book, plan_of(book, "laid-short"))  # 0.85 of 30 kN
    assert "carries no load" in _words(book, plan_of(book, "whip-common"))


def test_shortening_says_whether_it_was_measured(book: Book) -> None:
    assert "a default, not measured" in _words(book, plan_of(book, "hollow-eye"))
    assert "measured: braid geometry" in _words(book, plan_of(book, "hollow-end-to-end"))
    partly = plan_of(book, "hollow-end-to-end", swelling="")
    assert "partly measured, partly a default" in _words(book, partly)


def test_the_fill_profile_is_drawn_where_anything_is_buried(book: Book) -> None:
    assert "100 % ###" in _words(book, plan_of(book, "hollow-eye"))
    assert "Inside the standing part" not in _words(book, plan_of(book, "laid-eye"))


def test_turns_and_passes_stand_in_the_plan_and_in_its_one_line(book: Book) -> None:
    plan = plan_of(book, "whip-common")
    turns = next(count for count in plan.counts if count.title == "turns")
    assert f"{turns.count} turns" in PlanState(plan).headline({})[1]


def test_a_number_reads_the_same_in_the_drawing_and_in_the_marks(book: Book) -> None:
    plan = plan_of(book, "cover-eye")
    lines = [line.text for line in PlanPages(book).page("plan", PlanState(plan), {})(WIDTH)]
    bury = next(mark for mark in plan.marks if mark.name == "throat on the tail")
    assert bury.at_m != bury.shown_m  # 2 * 21 * 12.7 mm is no whole millimetre
    drawn = {found for line in lines for found in re.findall(r"tail (\d+ mm) -", line)}
    assert drawn == {f"{round(bury.shown_m * 1000)} mm"}


def test_what_one_reads_on_the_tape_is_explained_before_the_exact_number(book: Book) -> None:
    plan = plan_of(book, "cover-eye")
    pages = PlanPages(book)
    mark = next(number for number, mark in enumerate(plan.marks) if mark.name == "throat on the tail")
    told = [line.text for line in why_lines(pages.explained(plan), f"marks[{mark}]", WIDTH)]
    assert told[0].startswith("534 mm")
    assert any("exactly 533.4 mm" in line for line in told)  # 2 * 21 * 12.7 mm
    why = pages.page("why", PlanState(plan), {})(WIDTH)
    letters = [line.key for line in why if len(line.key) == 1]
    assert letters == [mark.letter for mark in plan.marks]


def _words(book: Book, plan: Plan) -> str:
    return " ".join("\n".join(line.text for line in PlanPages(book).page("plan", PlanState(plan), {})(WIDTH)).split())


def test_every_named_length_stands_in_the_plan_as_it_is_read_on_the_tape(book: Book) -> None:
    """The twine to cut and the strand left at a break stand on no drawing and in no table of marks."""
    twine = next(one for one in plan_of(book, "whip-common").lengths if one.name == "twine_needed")
    assert twine.tape_m is not None
    assert f"twine to cut: {round(twine.tape_m * 1000)} mm" in _words(book, plan_of(book, "whip-common"))
    assert "strand left at each break: 178 mm" in _words(book, plan_of(book, "laid-long"))  # 7 in, rounded up


def test_a_reason_that_keeps_many_methods_out_is_told_once(book: Book) -> None:
    """A page of the same sentence over and over hid what suits the rope."""
    rope = {"construction": "hollow-braid", "lay": "tight", "diameter": "12.7 mm", "strands": "12"}
    form = book.planner.blank_form() | rope
    page = PlanPages(book).page("plan", PlanState().after(form, book.planner), form)(WIDTH)
    shown = " ".join(" ".join(line.text for line in page).split())
    assert shown.count("no commonly published eye splice") == 1
    assert all(method.title in shown for method in book.planner.methods())
    assert shown.index("FITS sewn or knotted") < shown.index("DOES NOT FIT")
    kinds = form | {"lay": "loose"}
    page = PlanPages(book).page("plan", PlanState().after(kinds, book.planner), kinds)(WIDTH)
    assert sum("DOES NOT FIT" in line.text for line in page) < len([one for one in FORMS if "hollow" not in one]) / 2
