"""The bench by keys: each step with its numbers, measures judged at once, every press kept, resumed at every step."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import textwrap
from datetime import UTC, datetime
from pathlib import Path

import pytest
from textual.pilot import Pilot

from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import Difficulty, Outcome, Unit
from gearlog.services.bench_clock import IDLE_S
from gearlog.services.bench_views import BenchView
from gearlog.services.book import Book, open_book
from gearlog.tui.look import LOOKS
from gearlog.tui.screens.bench import BenchScreen
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.planner import PlannerScreen
from gearlog.tui.screens.splices import SplicesScreen
from gearlog.tui.widgets.big import big
from gearlog.tui.widgets.paper import Paper
from gearlog.tui.widgets.record_list import RecordList
from tests.tui.conftest import ROPE, TODAY, Start, add, text, typed
from tests.tui.test_looks import faint

EYE = {"method": "cover-eye", "eye": "115 mm"}
SIZES = [(80, 24), (60, 20), (120, 40)]


class Seconds:
    """A clock that only moves when it is told to."""

    now = 1000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def seconds(book: Book) -> Seconds:
    clock = book.bench.clock.seconds = Seconds()
    return clock


@pytest.fixture
def plan(book: Book) -> Plan:
    """A plan at end A of a rope in the log."""
    rope = add(book, **ROPE)
    return book.planner.plan(book.planner.form_for(rope.id, "A") | EYE)


@pytest.fixture
def begun(book: Book, plan: Plan, seconds: Seconds) -> BenchView:
    """That plan at the bench, at its first step."""
    return book.bench.start(plan)


def bench(pilot: Pilot[None]) -> BenchScreen:
    assert isinstance(pilot.app.screen, BenchScreen)
    return pilot.app.screen


def words(pilot: Pilot[None]) -> str:
    """What the screen says, without the spaces between its words."""
    return " ".join(text(pilot).replace("█", " ").split())


async def test_one_key_takes_the_plan_to_the_bench_and_one_each_goes_on_and_back(
    book: Book, plan: Plan, start: Start, seconds: Seconds
) -> None:
    async with start(book) as pilot:
        await pilot.press("2", "p", "enter")
        screen = pilot.app.screen
        assert isinstance(screen, PlannerScreen)
        screen.form.fill(EYE)
        screen.work_out(screen.form.values())
        await pilot.press("f6")
        assert "step 1 of 10" in words(pilot)
        await pilot.press("space")
        assert "step 2 of 10" in words(pilot)
        assert " ".join(plan.guide[1].text.split()) in words(pilot)
        await pilot.press("enter", "b")
        assert "step 2 of 10" in words(pilot)
        await pilot.press("left", "left")
        assert "step 1 of 10" in words(pilot)
        await pilot.press("escape")
        assert "[1 Today]" in text(pilot)
    assert book.bench.open_views()[0].number == 1


@pytest.mark.parametrize("size", SIZES)
async def test_every_step_stands_whole_on_the_screen_with_its_words_its_numbers_and_its_drawing(
    book: Book, begun: BenchView, start: Start, size: tuple[int, int]
) -> None:
    async with start(book, size) as pilot:
        await pilot.press("5")
        for number, step in enumerate(begun.plan.guide, 1):
            page = bench(pilot).query_one(Paper)
            shown = words(pilot)
            assert f"step {number} of {begun.count}" in shown
            if size[1] > 20:
                assert page.max_scroll_y == 0, number
            drawn = book_page(pilot)
            assert all(word in drawn for word in step.text.split())
            letters = [mark.letter for mark in begun.plan.marks if mark.id in step.marks]
            assert all(f"mark {letter}" in drawn for letter in letters)
            assert ("cover " in drawn.splitlines()[-1] or "|" in drawn.splitlines()[-1]) is bool(letters)
            await pilot.press("space")
        assert "All steps are done" in " ".join(text(pilot).split())


def book_page(pilot: Pilot[None]) -> str:
    return bench(pilot)._words(bench(pilot).view).plain


async def test_numbers_are_written_large(book: Book, begun: BenchView, start: Start) -> None:
    book.bench.done(begun.id)
    book.bench.done(begun.id)
    async with start(book) as pilot:
        await pilot.press("5")
        lines = text(pilot).splitlines()
        assert all(any(row.rstrip() in line for line in lines) for row in big("764"))
        assert all(any(row.rstrip() in line for line in lines[:6]) for row in big("3"))


async def test_a_measure_is_judged_while_it_is_typed_and_again_on_the_page(
    book: Book, begun: BenchView, start: Start
) -> None:
    book.bench.done(begun.id)
    async with start(book) as pilot:
        await pilot.press("5", "m")
        await typed(pilot, "266")
        assert "within the 6 mm that the method allows" in words(pilot)
        assert book.bench.view(begun.id).measurable[0].verdict is None, "nothing is saved before Enter"
        await pilot.press("enter")
        await typed(pilot, "20 1/2 in")  # 520.7 mm
        assert "TOO FAR OFF: mark b" in words(pilot)
        await pilot.press("enter", "escape")
        assert "TOO FAR OFF: mark b, throat on the tail: 20 1/2 in, planned 534 mm, 13 mm short" in words(pilot)
        assert "266 mm, 1 mm short, within" in words(pilot)
    known = {one.what: one.verdict for one in book.bench.view(begun.id).measurable}
    assert [one.measured.text for one in known.values() if one] == ["266 mm", "20 1/2 in"]


async def test_up_and_down_choose_what_is_measured_and_bad_words_are_refused_in_one_line(
    book: Book, begun: BenchView, start: Start
) -> None:
    async with start(book) as pilot:
        await pilot.press("5", "m")
        for bad in ("a bit", "[/]", "-5 mm", "5 kN", "1/0 in", "\x1b[31m", "9" * 500):
            await typed(pilot, bad)
            await pilot.press("enter")
            assert "! " in text(pilot), bad
            await pilot.press("ctrl+u")
        await typed(pilot, "111 mm")
        await pilot.press("enter")
        assert isinstance(pilot.app.screen, BenchScreen)
    eye = book.bench.view(begun.id).measurable[0]
    assert (eye.what, eye.verdict.measured.text if eye.verdict else "") == ("eye", "111 mm")


async def test_an_inch_tape_is_typed_without_its_unit(book: Book, start: Start, seconds: Seconds) -> None:
    book.keep(unit=Unit.IMPERIAL)
    rope = add(book, **ROPE)
    begun = book.bench.start(book.planner.plan(book.planner.form_for(rope.id, "A") | EYE))
    book.bench.done(begun.id)
    async with start(book) as pilot:
        await pilot.press("5", "m")
        await typed(pilot, "10 1/2")
        await pilot.press("enter", "escape")
        assert "10 1/2 in" in words(pilot)


async def test_a_remark_stands_at_its_step_and_may_be_taken_away_again(
    book: Book, begun: BenchView, start: Start
) -> None:
    async with start(book) as pilot:
        await pilot.press("5", "j")
        await typed(pilot, "stiff [red]as[/] wire")
        await pilot.press("enter")
        assert "Your remark: stiff [red]as[/] wire" in words(pilot)
        await pilot.press("space", "g")
        assert "Remark: stiff [red]as[/] wire" in words(pilot)
        await pilot.press("b", "j", "ctrl+u", "enter")
        assert book.bench.view(begun.id).remark == ""


async def test_the_clock_is_held_by_key_waits_when_idle_and_counts_the_time_on_request(
    book: Book, begun: BenchView, start: Start, seconds: Seconds
) -> None:
    async with start(book) as pilot:
        await pilot.press("5", "h")
        assert "the clock is HELD" in words(pilot)
        seconds.now += 50
        await pilot.press("h")
        assert "the clock runs" in words(pilot)
        assert book.bench.view(begun.id).step_s == 0
        seconds.now += IDLE_S + 60
        bench(pilot)._tick()
        await pilot.pause()
        assert "the clock waits; any key lets it go on" in words(pilot)
        assert "3:00, in all 3:00" in words(pilot), "the time is not cut off by the words beside it"
        await pilot.press("space")
        assert "1:00 without a key were not counted" in words(pilot)
        await pilot.press("H")
        assert [step.seconds for step in book.bench.view(begun.id).steps[:2]] == [IDLE_S + 60, 0]


async def test_going_elsewhere_saves_the_time_and_stops_the_clock(
    book: Book, begun: BenchView, start: Start, seconds: Seconds
) -> None:
    async with start(book) as pilot:
        await pilot.press("5")
        seconds.now += 42
        await pilot.press("m", "escape")
        await pilot.press("3")
        await pilot.pause()
        seconds.now += 5000
        view = book.bench.view(begun.id)
        assert (view.clock, view.step_s) == ("stopped", 42)
        await pilot.press("5")
        await pilot.pause()
        assert book.bench.view(begun.id).clock == "running"


async def test_how_a_measure_may_be_typed_is_told_whole(book: Book, begun: BenchView, start: Start) -> None:
    for size in ((80, 24), (120, 40)):
        async with start(book, size) as pilot:
            await pilot.press("5", "space", "m")
            assert "(a number alone is mm; fractions too: 21 3/8 in, 54.3 cm)" in text(pilot)


async def test_at_the_end_the_record_is_filled_in_and_only_outcome_and_difficulties_are_added(
    book: Book, begun: BenchView, start: Start, seconds: Seconds
) -> None:
    async with start(book) as pilot:
        await pilot.press("5", "space", "m")
        await typed(pilot, "266 mm")
        await pilot.press("enter", "escape", "j")
        await typed(pilot, "tape slipped")
        await pilot.press("enter")
        seconds.now += 100
        for _ in begun.plan.guide[1:]:
            await pilot.press("space")
        await pilot.press("m")
        await typed(pilot, "111 mm")
        await pilot.press("enter", "enter")
        assert isinstance(pilot.app.screen, FormScreen)
        form = pilot.app.screen.form
        assert form.focused_field == "outcome"
        await pilot.press("u", "down", "down", "down", "down", "down", "space", "ctrl+s")
        await pilot.pause()
        assert isinstance(pilot.app.screen, SplicesScreen)
    made = book.diary.rows()[0].splice
    assert (made.outcome, made.difficulties) == (Outcome.REMARK, (Difficulty.STIFF_ROPE,))
    assert (made.minutes, made.notes) == (2, "step 2: tape slipped")
    assert (made.finished_eye and made.finished_eye.text, made.measured[0].at.text) == ("111 mm", "266 mm")
    assert book.bench.open_views() == ()


async def test_a_splice_given_up_is_kept_with_its_reason(book: Book, begun: BenchView, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("5", "space", "X", "ctrl+s")
        assert "! is empty" in text(pilot)
        await typed(pilot, "strand pulled out [/]")
        await pilot.press("down")
        await typed(pilot, "12 bananas")
        await pilot.press("ctrl+s")
        assert "12 bananas" in text(pilot)
        await pilot.press("ctrl+u", "ctrl+s")
        await pilot.pause()
        assert "given up at step 2 of 10: strand pulled out [/]" in words(pilot)
    assert [row.outcome for row in book.diary.rows()] == [Outcome.GIVEN_UP]
    assert book.bench.open_views() == ()


async def test_a_press_can_be_taken_back_with_undo(book: Book, begun: BenchView, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("5", "space", "space", "u", "y")
        assert "step 2 of 10" in words(pilot)


async def test_what_is_unfinished_stands_on_today_and_is_offered_at_the_start_where_nothing_shows_it(
    book: Book, begun: BenchView, start: Start
) -> None:
    book.bench.done(begun.id)
    book.keep(screen="gear")
    async with start(book) as pilot:
        assert "Unfinished at the bench: long-climbing-line" in words(pilot)
        await pilot.press("1", "q")
    async with start(book) as pilot:
        assert "Unfinished at the bench: long-climbing-line" not in words(pilot)
        assert "1 at the bench" in words(pilot)
        lines = pilot.app.screen.query_one(RecordList)
        assert lines.choose(f"bench:{begun.id}")
        assert "at the bench" in text(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert "step 2 of 10" in words(pilot)


async def test_several_splices_are_kept_apart_and_the_same_end_goes_on(
    book: Book, begun: BenchView, plan: Plan, start: Start
) -> None:
    other = book.bench.start(book.planner.plan(book.planner.form_for(plan.inputs.rope_id, "B") | EYE))
    book.bench.done(begun.id)
    async with start(book) as pilot:
        await pilot.press("5", "5")
        assert "Which splice?" in text(pilot)
        await pilot.press("enter")
        await pilot.pause()
        first = "end A" in words(pilot)
        await pilot.press("5", "enter")
        await pilot.pause()
        assert ("end A" in words(pilot)) is not first
        await pilot.press("2", "p", "enter")
        screen = pilot.app.screen
        assert isinstance(screen, PlannerScreen)
        screen.form.fill(EYE)
        screen.work_out(screen.form.values())
        await pilot.press("f6")
        await pilot.pause()
        assert "at the bench already, step 2 of 10" in words(pilot)
    assert {view.id for view in book.bench.open_views()} == {begun.id, other.id}


async def test_a_plan_that_stops_and_an_empty_bench_say_so_in_one_line(book: Book, start: Start) -> None:
    add(book, **ROPE | {"construction": "kernmantle", "core_fibre": "polyamide", "strands": "32"})
    async with start(book) as pilot:
        await pilot.press("5")
        assert "Nothing is at the bench" in words(pilot)
        await pilot.press("space", "m", "b", "j", "h", "H", "X", "g", "r")
        assert "Nothing is at the bench" in words(pilot)
        await pilot.press("2", "p", "enter")
        screen = pilot.app.screen
        assert isinstance(screen, PlannerScreen)
        screen.form.fill(EYE)
        screen.work_out(screen.form.values())
        await pilot.press("f6")
        await pilot.pause()
        assert isinstance(pilot.app.screen, PlannerScreen)
        assert book.bench.open_views() == ()


@pytest.mark.parametrize("size", SIZES)
async def test_odd_names_and_remarks_are_shown_as_typed(book: Book, start: Start, size: tuple[int, int]) -> None:
    rope = add(book, **ROPE | {"name": "[/] [red]x \u202eab\u202c \u6f22\u5b57"})
    begun = book.bench.start(book.planner.plan(book.planner.form_for(rope.id, "A") | EYE))
    book.bench.remark(begun.id, "[/] bell [red] \u6f22\u5b57")
    async with start(book, size) as pilot:
        await pilot.press("5")
        await pilot.pause()
        assert all(line.isprintable() for line in text(pilot).splitlines())
        assert "[/] bell [red]" in words(pilot)


# Stopped and started again


def _clock() -> datetime:
    return datetime(2025, 3, 3, 12, tzinfo=UTC)


def opened(folder: Path) -> Book:
    return open_book(folder, today=lambda: TODAY, now=_clock)


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """A log on the disk with a splice at the bench."""
    with opened(tmp_path / "log") as book:
        rope = add(book, **ROPE)
        book.bench.start(book.planner.plan(book.planner.form_for(rope.id, "A") | EYE))
    return tmp_path / "log"


async def test_stopped_at_any_step_it_goes_on_at_that_step(log: Path, start: Start) -> None:
    for number in range(1, 12):
        with opened(log) as book:
            async with start(book) as pilot:
                if number == 1:
                    await pilot.press("5")
                wanted = f"step {number} of 10" if number <= 10 else "all 10 steps done"
                await pilot.pause()
                assert wanted in words(pilot), number
                if number <= 10:
                    await pilot.press("space")
    with opened(log) as book:
        async with start(book) as pilot:
            await pilot.press("enter", "g", "ctrl+s")
            await pilot.pause()
        assert book.bench.open_views() == ()


KILLED = textwrap.dedent("""
    import asyncio, os, signal, sys
    from datetime import UTC, date, datetime
    from pathlib import Path
    from gearlog.services.book import open_book
    from gearlog.tui.app import GearlogApp

    async def work():
        noon = datetime(2025, 3, 3, 12, tzinfo=UTC)
        book = open_book(Path(sys.argv[1]), today=lambda: date(2025, 3, 3), now=lambda: noon)
        app = GearlogApp(book)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            await pilot.press("5", *sys.argv[2:])
            os.kill(os.getpid(), signal.SIGKILL)

    asyncio.run(work())
""")


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no SIGKILL")
def test_killed_right_after_a_press_nothing_of_it_is_lost(log: Path) -> None:
    for number in range(1, 11):
        run = subprocess.run([sys.executable, "-c", KILLED, str(log), "space"], cwd=Path.cwd(),
                             env=os.environ | {"PYTHONPATH": str(Path.cwd())}, check=False, timeout=60)  # fmt: skip
        assert run.returncode == -signal.SIGKILL
        with opened(log) as book:
            assert book.bench.open_views()[0].number == number + 1


# Looks


@pytest.mark.parametrize("look", LOOKS)
async def test_every_word_at_the_bench_is_legible(book: Book, begun: BenchView, start: Start, look: str) -> None:
    book.keep(theme=look)
    book.bench.done(begun.id)
    book.bench.measure(begun.id, "1", "600 mm")
    async with start(book, (120, 40)) as pilot:
        for keys in (("5",), ("h",), ("m", "9"), ("escape", "g"), ("g",), ("g", "X")):
            await pilot.press(*keys)
            await pilot.pause()
            strips = pilot.app.screen._compositor.render_strips(pilot.app.size)
            assert faint([segment for strip in strips for segment in strip]) == [], keys
