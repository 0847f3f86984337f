"""What splices teach, by keys: never a mean without its interval, a correction only on request."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot

from gearlog.domain.splice import Splice
from gearlog.services.book import Book
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.screens.learn import LearnScreen
from gearlog.tui.screens.planner import PlannerScreen
from gearlog.tui.screens.splices import SplicesScreen
from gearlog.tui.widgets.lines_view import LinesView
from tests.making import GOOD, made_form
from tests.tui.conftest import ROPE, Start, add, text, typed
from tests.tui.turns import all_done


@pytest.fixture
def eyes(book: Book, made: Splice) -> tuple[Splice, ...]:
    """Five more splices like the first, each eye 6 mm short but for a hair."""
    assert made.plan is not None
    form = book.diary.form_like(made.id) | GOOD | {"end": "B", "tools": "wire fid"}
    return tuple(
        book.diary.record(form | {"finished_eye": f"{109 + step / 10} mm", "made_on": "2025-02-01"}, made.plan)
        for step in range(-2, 3)
    )


async def test_lessons_tell_rate_interval_bias_and_too_few(
    book: Book, made: Splice, eyes: tuple[Splice, ...], start: Start
) -> None:
    assert len(eyes) == 5
    for force in ("20 kN", "21 kN"):
        book.strength.record(
            made.id, book.strength.blank_form() | {"kind": "break", "force": force, "failed_at": "throat"}
        )
    async with start(book) as pilot:
        await pilot.press("3", "l")
        page = pilot.app.screen.query_one(LinesView)
        words = " ".join(page.text.split())
        assert all(len(line.text) <= 80 for line in page.lines)
        assert "100 % good; with 95 % confidence between 61 % and 100 %" in words  # Wilson, 6 of 6
        assert "than marked, 95 % interval" in words
        assert "n 6" in words
        assert "No bound is told: too few for a bound: 2 broken, at least 3 are needed" in words
        assert "Offered: mark the eye" in words
        assert "2025-02-01 6 mm shorter" in words, "the eyes over time, drawn"
        await pilot.press("d")
        assert "There is no plan here" in text(pilot)
        await pilot.press("escape")
        assert isinstance(pilot.app.screen, SplicesScreen)


async def test_what_the_lessons_are_about_stays_in_view_and_the_page_scrolls_under_it(
    book: Book, made: Splice, eyes: tuple[Splice, ...], start: Start
) -> None:
    assert eyes
    assert made.rope_id
    async with start(book) as pilot:
        await pilot.press("3", "l")
        assert "What they teach:" in text(pilot)
        assert "came out" in text(pilot)
        await pilot.press("end")
        await pilot.pause()
        assert "What they teach:" in text(pilot)
        assert "came out      " not in text(pilot)
        await pilot.press("escape")
        assert not isinstance(pilot.app.screen, LearnScreen)


async def test_the_correction_is_taken_and_undone_by_one_key_and_shown_in_the_plan(
    book: Book, made: Splice, eyes: tuple[Splice, ...], start: Start
) -> None:
    assert len(eyes) == 5
    async with start(book) as pilot:
        await pilot.press("3", "p")
        await pilot.pause()
        screen = pilot.app.screen
        assert isinstance(screen, PlannerScreen)
        await pilot.press("ctrl+l", "l")
        assert isinstance(pilot.app.screen, LearnScreen)
        assert screen.state.plan is not None
        before = screen.state.plan.inputs
        assert before.eye_correction_m == 0
        await pilot.press("d")
        taken = screen.state.plan.inputs
        assert taken.eye_correction_m == pytest.approx(0.0057, abs=0.0004)  # mean of -4 and five about -6
        assert "TAKEN into the plan" in pilot.app.screen.query_one(LinesView).text
        await pilot.press("escape")
        assert any("eye" in check.message and "longer" in check.message for check in screen.state.plan.checks)
        await pilot.press("d")
        assert screen.state.plan.inputs == before


@pytest.fixture
def both_off(book: Book) -> dict[str, str]:
    """Three splices whose eyes and lengths came out short alike; the planner's form for one more."""
    rope = add(book, **ROPE | {"construction": "hollow-braid", "strands": "12", "core_fibre": ""})
    form = book.planner.form_for(rope.id, "A") | {"method": "hollow-eye", "eye": "150 mm", "finished": "3 m"}
    plan = book.planner.plan(form)
    for length, eye in (("2989 mm", "145 mm"), ("2988 mm", "146 mm"), ("2987 mm", "147 mm")):
        book.diary.record(made_form(book, plan) | {"finished_length": length, "finished_eye": eye}, plan)
    return form


async def moved(pilot: Pilot[None], screen: PlannerScreen, words: str) -> tuple[float, float]:
    """Take one of two corrections in or out by keys; the eye's and the shortening's in the plan then (mm)."""
    await pilot.press("d")
    await all_done(pilot)
    assert isinstance(pilot.app.screen, ChooseDialog)
    await typed(pilot, words)
    await pilot.press("enter")
    await all_done(pilot)
    assert screen.state.plan is not None
    inputs = screen.state.plan.inputs
    return round(inputs.eye_correction_m * 1000, 6), round(inputs.shortening_correction_m * 1000, 6)


async def test_with_two_corrections_it_is_asked_which_and_both_stand_in_the_plan(
    book: Book, both_off: dict[str, str], start: Start
) -> None:
    async with start(book) as pilot:
        await pilot.press("4")
        await all_done(pilot)
        screen = pilot.app.screen
        assert isinstance(screen, PlannerScreen)
        screen.form.fill(both_off)
        screen.work_out(both_off)
        await pilot.press("ctrl+l")
        await all_done(pilot)
        assert "shortening    12 mm more than reckoned in the mean of 3" in text(pilot)
        await pilot.press("l")
        await all_done(pilot)
        page = " ".join(pilot.app.screen.query_one(LinesView).text.split())
        assert "shortening 12 mm more than reckoned, 95 % interval from 10 mm more to 14 mm more, n 3" in page
        assert "Correction of the eye Offered: mark the eye 4 mm longer" in page
        assert "Correction of the shortening Offered: reckon with 12 mm more shortening" in page
        assert await moved(pilot, screen, "into shortening") == (0, 12)
        assert "TAKEN into the plan: 12 mm more" in " ".join(pilot.app.screen.query_one(LinesView).text.split())
        assert await moved(pilot, screen, "into eye") == (4, 12)
        assert screen.state.plan is not None
        assert {"eye-corrected", "shortening-corrected"} <= {check.code for check in screen.state.plan.checks}
        await pilot.press("escape")
        assert await moved(pilot, screen, "out shortening") == (4, 0)
        assert await moved(pilot, screen, "out eye") == (0, 0)


async def test_the_strength_of_three_is_told_by_its_lower_bound(
    book: Book, made: Splice, eyes: tuple[Splice, ...], start: Start
) -> None:
    for splice, force in zip(eyes, ("20 kN", "21 kN", "22 kN"), strict=False):
        book.strength.record(
            splice.id, book.strength.blank_form() | {"kind": "break", "force": force, "failed_at": "throat"}
        )
    async with start(book) as pilot:
        await pilot.press("3", "l")
        words = " ".join(pilot.app.screen.query_one(LinesView).text.split())
    # k for n 3, 95 % coverage, 95 % confidence is 7.656; 21 - 7.656 x 1 = 13.3 kN
    assert (
        "95 % of such splices hold 13.3 kN or more, told with 95 % confidence: the mean, 21.0 kN, less 7.656" in words
    )
    assert "Failed at: throat (3)" in words
