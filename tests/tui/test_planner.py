"""The planner by keys: live, honest about what is not current, and never losing what was typed."""

from __future__ import annotations

import time

import pytest
from textual.pilot import Pilot

from gearlog.domain.vocabulary import Unit
from gearlog.services.book import Book
from gearlog.services.forms import PLAN_FORM
from gearlog.tui.dialogs.confirm import ConfirmDialog
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.planner import PlannerScreen
from gearlog.tui.widgets.plan_bars import PlanBar
from gearlog.tui.widgets.plan_state import PlanState
from tests.tui.conftest import ROPE, Start, add, text, typed

HOLLOW = {
    "method": "hollow-eye", "construction": "hollow-braid", "strands": "12", "fibre": "polyester",
    "diameter": "12 mm", "eye": "150 mm", "pin": "50 mm", "fid": "300 mm",
}  # fmt: skip
BAD = (
    "0", "-5 mm", "12 bananas", "1/0 in", "9" * 10_000, "\x1b[31m\x07", "[/]", "[red]x[/red]", "\u202e12 mm\u202c",
    "\u6f22\u5b57 mm", "10**10**10", "1,5 m", "22 kn",
)  # fmt: skip


def planner(pilot: Pilot[None]) -> PlannerScreen:
    assert isinstance(pilot.app.screen, PlannerScreen)
    return pilot.app.screen


def bar(pilot: Pilot[None]) -> str:
    return planner(pilot).query_one(PlanBar).text


async def plan_on(pilot: Pilot[None], **fields: str) -> PlannerScreen:
    """Go to the planner with the form filled as by its draft."""
    await pilot.press("4")
    await pilot.pause()
    screen = planner(pilot)
    screen.form.fill(fields)
    screen.work_out(screen.form.values())
    await pilot.pause()
    return screen


async def test_the_plan_is_worked_out_at_every_letter_to_the_published_millimetre(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        screen = await plan_on(pilot, **HOLLOW | {"eye": ""})
        assert bar(pilot).startswith("NO PLAN YET fill eye")
        screen.form.focus_field("eye")
        await pilot.press(*"150", "space", "m", "m")
        assert "PLAN" in bar(pilot)
        assert "504 mm" in bar(pilot)  # mark 1 at 42 d of 12 mm
        assert "804 mm" in bar(pilot)  # mark 2 at 42 d and a loop of twice the eye
        await pilot.press("ctrl+g")
        assert "half angle at the throat 13.4 deg" in screen.page.text
        assert "bears 0.514 of" in " ".join(screen.page.text.split())
        assert screen.page.text.count("common practice, unconfirmed") > 0


async def test_an_unreadable_field_leaves_the_last_good_plan_marked_as_not_current(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        screen = await plan_on(pilot, **HOLLOW)
        screen.form.focus_field("eye")
        await pilot.pause()
        await typed(pilot, " bananas")
        assert bar(pilot).startswith("NOT CURRENT eye, inside length")
        assert "the plan before:" in bar(pilot)
        assert "504 mm" in bar(pilot)
        await pilot.press("ctrl+g")
        assert "do not cut by it" in screen.page.text
        assert "Marks, from the working end" in screen.page.text
        await pilot.press("escape")
        assert screen.form.focused_field == "eye"
        assert screen.form.values()["eye"] == "150 mm bananas"


@pytest.mark.parametrize("field", [field.name for field in PLAN_FORM])
def test_bad_input_in_any_field_is_one_clear_line_beside_the_last_good_plan(book: Book, field: str) -> None:
    good = PlanState().after(book.planner.blank_form() | HOLLOW, book.planner)
    assert good.current
    for words in BAD:
        state = good.after(book.planner.blank_form() | HOLLOW | {field: words}, book.planner)
        word, line = state.headline({})
        assert state.plan is not None
        assert word in {"NOT CURRENT", "PLAN", "STOP"}
        assert line
        assert "\n" not in line
        if not state.current:
            assert field in {fault.field for fault in state.faults}
            assert "; " in (state.fault_of(field) or "")


async def test_bad_input_stays_as_typed_and_is_shown_not_obeyed(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        screen = await plan_on(pilot, **HOLLOW)
        for field in ("rope", "strands", "diameter", "design_factor"):
            for words in ("[/] [red]x \x1b[31m\x07 \u202e12 mm\u202c \u6f22\u5b57", "9" * 10_000):
                screen.form.fill({field: ""})
                screen.form.focus_field(field)
                await pilot.pause()
                await typed(pilot, words)
                assert bar(pilot).startswith("NOT CURRENT")
                assert screen.form.values()[field] == words
                assert all(line.isprintable() for line in text(pilot).splitlines())
            screen.form.fill({field: HOLLOW.get(field, "")})


async def test_a_rope_of_the_log_fills_the_form_and_what_suits_it_is_chosen(book: Book, start: Start) -> None:
    add(book, **ROPE)
    add(book, name="tight twelve", category="lifeline", construction="hollow-braid", lay="tight", strands="12")
    async with start(book) as pilot:
        screen = await plan_on(pilot, eye="115 mm", method="cover-eye")
        await pilot.press("ctrl+t")
        await typed(pilot, "climbing")
        await pilot.press("enter", "down", "enter")
        values = screen.form.values()
        assert (values["rope"], values["end"]) == ("long-climbing-line", "B")
        assert (values["method"], values["diameter"], values["eye"]) == ("cover-eye", "12.7 mm", "115 mm")
        assert bar(pilot).startswith("PLAN")

        screen.form.focus_field("rope")
        await pilot.pause()
        await pilot.press("home", "ctrl+k")
        await typed(pilot, "tight-twelve")
        values = screen.form.values()
        assert (values["construction"], values["lay"], values["diameter"]) == ("hollow-braid", "tight", "")
        await pilot.press("ctrl+g")
        assert "sewn" in text(pilot)


async def test_a_stopped_plan_is_recorded_only_after_saying_so(book: Book, start: Start) -> None:
    add(book, **ROPE | {"construction": "hollow-braid", "lay": "tight", "strands": "12", "core_fibre": ""})
    async with start(book) as pilot:
        await plan_on(pilot, **HOLLOW | {"rope": "long-climbing-line", "lay": "tight", "end": "A"})
        assert bar(pilot).startswith("STOP")
        await pilot.press("ctrl+r")
        assert isinstance(pilot.app.screen, ConfirmDialog)
        assert "STOPPED" in text(pilot)
        await pilot.press("enter")  # it starts on No
        assert isinstance(pilot.app.screen, PlannerScreen)
        await pilot.press("ctrl+r", "y")
        assert isinstance(pilot.app.screen, FormScreen)
        assert "recorded as an experiment" in " ".join(text(pilot).split())
        pilot.app.screen.form.focus_field("outcome")
        await pilot.press("f", "ctrl+s")
        assert [row.splice.plan is not None and row.splice.plan.stopped for row in book.diary.rows()] == [True]


async def test_a_plan_that_is_not_current_is_not_recorded_and_tells_where_to_mend_it(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        screen = await plan_on(pilot, **HOLLOW | {"pin": "0"})
        await pilot.press("ctrl+r")
        assert isinstance(pilot.app.screen, PlannerScreen)
        assert screen.form.focused_field == "pin"


async def test_the_unit_changes_everywhere_and_the_form_stays_as_typed(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        screen = await plan_on(pilot, **HOLLOW)
        await pilot.press("f9")
        assert book.settings.unit is Unit.IMPERIAL
        assert "19 7/8 in" in bar(pilot)  # 504 mm is 19.84 in; lengths on a tape are rounded up
        screen.form.focus_field("eye")
        await pilot.pause()
        await typed(pilot, "x")
        await pilot.press("f9")
        assert "504 mm" in bar(pilot)
        assert screen.form.values()["eye"] == "150 mmx"


async def test_what_was_typed_comes_back_after_quitting_also_in_an_open_record(book: Book, start: Start) -> None:
    add(book, **ROPE)
    async with start(book) as pilot:
        await plan_on(pilot, rope="long-climbing-line", end="B", method="cover-eye", eye="115 mm", fid="12 bananas")
        await pilot.press("ctrl+q")
    async with start(book) as pilot:
        screen = planner(pilot)
        assert screen.form.values()["fid"] == "12 bananas"
        screen.form.fill({"fid": ""})
        screen.work_out(screen.form.values())
        await pilot.press("ctrl+r")
        await typed(pilot, "266 mm")
        await pilot.press("f9", "f9")  # another unit does not close the form
        assert isinstance(pilot.app.screen, FormScreen)
        await pilot.press("ctrl+q")
    async with start(book) as pilot:
        await pilot.pause()
        assert isinstance(pilot.app.screen, FormScreen)
        assert pilot.app.screen.form.values()["measured.taper"] == "266 mm"


async def test_why_shows_formula_values_and_source_and_a_letter_goes_to_its_mark(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        screen = await plan_on(pilot, **HOLLOW)
        await pilot.press("ctrl+o", "c")
        shown = screen.page.text
        assert "bury + loop" in shown
        assert "504 mm + 300 mm" in shown
        assert "mark c, throat on the standing part" in text(pilot).splitlines()[5]
        await pilot.press("y")
        assert screen.at == "fields"


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
async def test_the_field_in_focus_is_always_in_view(book: Book, start: Start, size: tuple[int, int]) -> None:
    async with start(book, size) as pilot:
        screen = await plan_on(pilot, **HOLLOW)
        for _ in range(len(PLAN_FORM)):
            await pilot.press("down")
            focused = screen.focused
            assert focused is not None
            assert screen.form.region.contains_region(focused.region)


async def test_a_change_is_planned_and_drawn_in_a_few_milliseconds(book: Book, start: Start) -> None:
    async with start(book, (120, 40)) as pilot:
        screen = await plan_on(pilot, **HOLLOW)
        took = []
        for number in range(30):
            form = screen.form.values() | {"eye": f"{150 + number} mm"}
            begun = time.perf_counter()
            screen.work_out(form)
            took.append(time.perf_counter() - begun)
        assert sorted(took)[len(took) // 2] < 0.05  # ten times what it takes on an idle machine


async def test_beside_a_page_no_choice_is_pushed_out_of_a_field_and_a_cut_hint_says_so(
    book: Book, start: Start
) -> None:
    """A tick whose words were folded pushed the last one, 'any other knot', out of its field."""
    async with start(book, size=(120, 44)) as pilot:
        screen = await plan_on(pilot, **HOLLOW)
        await pilot.pause()  # what follows from the new width is painted
        shown = text(pilot)
        for words in ("[ ] round turn or timber h\u2026", "[ ] square knot", "[ ] any other knot"):
            assert words in shown
        hint = next(line for line in shown.splitlines() if line.strip().startswith("finished length"))
        assert "(wanted: 6 m or 20 ft; giv\u2026" in hint
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        assert "(wanted: 6 m or 20 ft; gives the cut length)" in text(pilot)
        assert screen.form.values()["finished"] == ""
