"""The diary by keys: recorded as last time, narrowed, read, corrected with its versions kept, and what it teaches."""

from __future__ import annotations

import threading
from datetime import UTC, datetime
from pathlib import Path

import pytest
from textual.pilot import Pilot

from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Condition, Outcome
from gearlog.services.book import Book, open_book
from gearlog.services.forms import SPLICE_FORM
from gearlog.tui.screens import record
from gearlog.tui.screens.base import Wish
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.gear import GearScreen
from gearlog.tui.screens.planner import PlannerScreen
from gearlog.tui.screens.splices import SplicesScreen
from gearlog.tui.widgets.form import FormView
from tests.making import GOOD, NEW_ROPE
from tests.tui.conftest import ODD_NAMES, ROPE, TODAY, Start, add, text, typed
from tests.tui.test_geometry import in_view

NOON = datetime(2025, 3, 3, 12, tzinfo=UTC)
HOW = GOOD | {"end": "A"}
"""What every record needs beside its rope and its method."""
BAD = ("0", "-5 mm", "12 bananas", "1/0 in", "x" * 10_000, "\x1b[31m\x07", "[/]", "[red]x[/red]", "\u202eab\u202c")


def diary(pilot: Pilot[None]) -> SplicesScreen:
    assert isinstance(pilot.app.screen, SplicesScreen)
    return pilot.app.screen


def form_screen(pilot: Pilot[None]) -> FormScreen:
    assert isinstance(pilot.app.screen, FormScreen)
    return pilot.app.screen


async def test_the_record_shows_what_was_planned_beside_what_was_measured(
    book: Book, made: Splice, start: Start
) -> None:
    async with start(book) as pilot:
        await pilot.press("3", "slash", *"milked", "enter", "enter")
        shown = text(pilot)
        assert "milked [red]twice[/]" in shown
        row = next(line for line in shown.splitlines() if "540 mm" in line)
        assert "534 mm" in row  # 42 d of 12.7 mm is 533.4 mm, rounded up to the tape
        assert "6 mm over" in row
        assert "4 mm short" in next(line for line in shown.splitlines() if "111 mm" in line and "115" in line)
        await pilot.press("o")
        assert isinstance(pilot.app.screen, GearScreen)
        assert pilot.app.screen.chosen_id == made.rope_id


async def test_a_copy_is_a_new_record_without_what_was_found_then(book: Book, made: Splice, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("3", "c")
        form = form_screen(pilot).form
        assert (form.values()["minutes"], form.values()["measured.1"], form.values()["method"]) == ("", "", "cover-eye")
        assert form.values()["outcome"] == "", "how it came out is never copied"
        await pilot.press("g")
        form.focus_field("measured.taper")
        await pilot.pause()
        await typed(pilot, "268 mm")
        await pilot.press("ctrl+s")
        new = next(row.splice for row in book.diary.rows() if row.splice.id != made.id)
        assert [(one.mark, one.at.text) for one in new.measured] == [("taper", "268 mm")]
        assert new.plan == made.plan
        assert book.diary.splice(made.id) == made


async def test_a_correction_asks_why_keeps_the_version_before_and_can_be_taken_back(
    book: Book, made: Splice, start: Start
) -> None:
    async with start(book) as pilot:
        await pilot.press("3", "enter", "v")
        assert "never corrected" in text(pilot)
        await pilot.press("e", "ctrl+s")
        assert "say why" in text(pilot) or "is empty" in text(pilot)
        assert len(book.diary.versions(made.id)) == 1
        await typed(pilot, "misread [the] tape")
        form_screen(pilot).form.focus_field("finished_eye")
        await pilot.pause()
        await pilot.press("backspace", "backspace", "backspace", "backspace")
        await typed(pilot, "4 mm")
        await pilot.press("ctrl+s")
        newest = book.diary.rows()[0].splice
        assert (newest.finished_eye and newest.finished_eye.text, newest.corrects) == ("114 mm", made.id)
        await pilot.press("v")
        page = diary(pilot).describe(newest.id, 76).plain
        assert "misread [the] tape" in page
        assert "111 mm; corrected to 114 mm" in page
        await pilot.press("u", "y")
        assert book.diary.rows()[0].splice.id == made.id


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_an_earlier_version_is_seen_at_once_and_tells_all_that_it_said_otherwise(
    book: Book, made: Splice, start: Start, size: tuple[int, int]
) -> None:
    """A wrong end is the worst slip to correct; the old word stood below the drawing and left the end out."""
    twin = add(book, **ROPE | {"name": "twin line", "tag": "twin"})
    other = {"rope": "twin", "end": "B", "measured.1": "542 mm", "outcome": "remade", "notes": ""}
    newest = book.diary.correct(made.id, book.diary.form_of(made.id) | other, "wrong rope [/] and end")
    assert newest.rope_id == twin.id
    async with start(book, size) as pilot:
        await pilot.press("3", "enter")
        assert "v shows what it said before" in " ".join(text(pilot).split())
        await pilot.press("v")
        await pilot.pause()
        shown = " ".join(text(pilot).split())
        assert "wrong rope [/] and end" in shown
        assert "long-climbing-line, end A; corrected to" in shown
        assert "good; corrected to remade" in shown
        page = " ".join(diary(pilot).describe(newest.id, 76).plain.split())
        assert "mark b 540 mm; corrected to 542 mm" in page
        assert "milked [red]twice[/]; corrected to nothing" in page


async def test_filter_method_and_outcome_narrow_the_diary(book: Book, made: Splice, start: Start) -> None:
    form = book.diary.blank_form() | {"rope": "long-climbing-line", "end": "B", "method": "other", "outcome": "failed"}
    book.diary.record(form | NEW_ROPE, None)
    async with start(book) as pilot:
        await pilot.press("3", "w")
        await typed(pilot, "fail")
        await pilot.press("enter")
        assert [row.outcome for row in diary(pilot).list.rows.shown] == [Outcome.FAILED]
        await pilot.press("escape", "k")
        await typed(pilot, "cover-loaded")
        await pilot.press("enter")
        assert [row.splice.id for row in diary(pilot).list.rows.shown] == [made.id]


async def test_the_next_splice_is_planned_from_the_diary(book: Book, made: Splice, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("3", "p")
        await pilot.pause()
        assert isinstance(pilot.app.screen, PlannerScreen)
        values = pilot.app.screen.form.values()
        assert (values["rope"], values["end"], values["method"]) == ("long-climbing-line", "A", "cover-eye")


async def test_a_splice_without_a_plan_is_recorded_and_says_so(book: Book, start: Start) -> None:
    add(book, **ROPE)
    async with start(book) as pilot:
        await pilot.press("3")
        assert "The diary is empty" in text(pilot)
        await pilot.press("a", "enter", "enter")
        await typed(pilot, "another method")
        await pilot.press("enter")
        assert "nothing like it was made yet" in text(pilot)
        assert form_screen(pilot).form.focused_field == "outcome", "rope, end and method are chosen already"
        await pilot.press("g", "ctrl+s")
        assert form_screen(pilot).form.focused_field == "condition", "nobody said how the rope was"
        assert book.diary.rows() == ()
        await pilot.press("u", "ctrl+s")
        await pilot.pause()
        assert [(row.splice.plan, row.splice.condition) for row in book.diary.rows()] == [(None, Condition.USED)]
        await pilot.press("enter")
        assert "nothing to compare" in text(pilot)


@pytest.mark.parametrize("field", [field.name for field in SPLICE_FORM] + ["measured.1"])
def test_bad_input_in_any_field_is_refused_in_words_or_kept_as_typed(book: Book, made: Splice, field: str) -> None:
    assert made.plan is not None
    task = record.from_plan(book, made.plan)
    for words in BAD:
        fault = task.check(field, words)
        assert fault is None or ("; " in fault and "\n" not in fault)
        saved = None
        try:
            saved = task.save(dict(task.start) | GOOD | {field: words})
        except Exception as error:
            faults = getattr(error, "faults", ())
            assert field in {one.field for one in faults}, (field, words[:20], error)
            assert all(one.reason and one.way_out for one in faults)
        if saved is not None:
            assert words.strip(" \t\r\n") in book.diary.form_of(saved.id)[field]


async def test_a_refused_record_loses_nothing_and_goes_to_the_fault(book: Book, made: Splice, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("3", "c")
        form = form_screen(pilot).form
        await pilot.press("g")
        form.focus_field("measured.taper")
        await pilot.pause()
        await typed(pilot, "12 bananas")
        form.focus_field("difficulty_words")
        await pilot.pause()
        await typed(pilot, "first line [/]")
        await pilot.press("ctrl+s")
        assert form.focused_field == "measured.taper"
        assert "12 bananas" in text(pilot)
        assert "no unit that is known" in text(pilot)
        await pilot.press("escape", "c")
        values = form_screen(pilot).form.values()
        assert (values["measured.taper"], values["difficulty_words"]) == ("12 bananas", "first line [/]")


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
async def test_odd_names_are_shown_as_typed(book: Book, start: Start, size: tuple[int, int]) -> None:
    for number, name in enumerate(ODD_NAMES):
        try:
            add(book, **ROPE | {"name": name, "tag": f"rope-{number}"})
        except Exception as error:
            assert getattr(error, "faults", ())  # refused in words by the rules of records
            continue
        form = (
            book.diary.blank_form()
            | {"rope": f"rope-{number}", "method": "other", "difficulty_words": name}
            | HOW
            | NEW_ROPE
        )
        book.diary.record(form, None)
    async with start(book, size) as pilot:
        await pilot.press("3", "enter")
        for _ in range(len(ODD_NAMES)):
            assert all(line.isprintable() for line in text(pilot).splitlines())
            await pilot.press("escape", "down", "enter")


# What narrows the diary


async def test_the_diary_is_narrowed_by_every_filter_and_says_so_in_words(
    book: Book, made: Splice, start: Start
) -> None:
    hollow = {"name": "winch line", "construction": "hollow-braid", "strands": "12", "core_fibre": ""}
    add(book, **ROPE | hollow)
    form = book.diary.blank_form() | {"rope": "winch-line", "method": "other", "made_by": "EF", "made_on": "2024-07",
                                      "difficulties": "stiff rope", "outcome": "remade", "end": "A"}  # fmt: skip
    other = book.diary.record(form | NEW_ROPE, None)
    cases = {
        "rope": ("winch", "rope winch"),
        "construction": ("h", "construction hollow braid"),
        "made_by": ("ef", "made by ef"),
        "outcome": ("remade", "outcome remade"),
        "difficulty": ("stiff rope", "difficulty stiff rope"),
        "made_to": ("2024-12", "made to 2024-12"),
    }
    async with start(book) as pilot:
        await pilot.press("3", "n")
        asked = [line.split() for line in text(pilot).splitlines()]
        empty = {words[-1] for words in asked if {"construction", "method"} & set(words)}
        assert empty == {"any"}, "an empty filter is no unknown"
        await pilot.press("escape")
        for name, (typed_words, told) in cases.items():
            await pilot.press("3", "n")
            filters = pilot.app.screen.query_one(FormView)
            filters.focus_field(name)
            await pilot.pause()
            if name in {"outcome", "difficulty"}:
                filters.fill({name: typed_words})
            elif name == "construction":
                await pilot.press(typed_words)
            else:
                await typed(pilot, typed_words)
            await pilot.press("ctrl+s")
            await pilot.pause()
            assert [row.splice.id for row in diary(pilot).list.rows.shown] == [other.id], name
            assert f"Only {told}." in " ".join(text(pilot).split())
            await pilot.press("escape")
            assert len(diary(pilot).list.rows.shown) == 2
            assert "Only " not in text(pilot)


async def test_a_filter_that_does_not_read_is_told_in_the_dialog_and_filters_are_kept(
    book: Book, made: Splice, start: Start
) -> None:
    async with start(book) as pilot:
        await pilot.press("3", "n")
        filters = pilot.app.screen.query_one(FormView)
        filters.focus_field("made_from")
        await pilot.pause()
        await typed(pilot, "last week [/]")
        await pilot.press("ctrl+s")
        assert "last week [/]" in text(pilot)
        assert filters._rows["made_from"].fault
        await pilot.press("ctrl+n")
        filters.focus_field("rope")
        await pilot.pause()
        await typed(pilot, "nothing like it [/]")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert len(diary(pilot).list.rows.shown) == 0
    async with start(book) as pilot:
        await pilot.pause()
        assert "Only rope nothing like it [/]." in " ".join(text(pilot).split())
        diary(pilot).arrive(Wish(chosen=made.id))
        await pilot.pause()
        assert diary(pilot).chosen_id == made.id, "what one comes for is shown, whatever was filtered"


# Photos and tests of strength


class Viewer:
    """The system's viewer, which tells what it was asked for."""

    def __init__(self, code: int = 0, error: OSError | None = None) -> None:
        self.code, self.error = code, error
        self.asked: list[list[str]] = []
        self.thread = ""

    def __call__(self, command: list[str], **_: object) -> Viewer:
        self.asked.append(command)
        self.thread = threading.current_thread().name
        if self.error is not None:
            raise self.error
        return self

    def wait(self, _: float) -> int:
        return self.code


@pytest.mark.parametrize(
    ("viewer", "told"),
    [
        (Viewer(), "The system's viewer is asked to show it."),
        (Viewer(error=FileNotFoundError()), "is not installed; the file is"),
        (Viewer(code=3), "found no viewer; the file is"),
    ],
)
async def test_a_photo_is_added_by_its_path_and_shown_by_the_systems_viewer(
    tmp_path: Path, start: Start, monkeypatch: pytest.MonkeyPatch, viewer: Viewer, told: str
) -> None:
    monkeypatch.setattr("gearlog.tui.viewer.subprocess.Popen", viewer)
    picture = tmp_path / "eye [red].png"
    picture.write_bytes(b"\x89PNG a picture")
    with open_book(tmp_path / "log", today=lambda: TODAY, now=lambda: NOON) as book:
        add(book, **ROPE)
        book.diary.record(
            book.diary.blank_form() | {"rope": "long-climbing-line", "method": "other"} | HOW | NEW_ROPE, None
        )
        async with start(book, (120, 40)) as pilot:
            await pilot.press("3", "V", "enter")
            await typed(pilot, str(tmp_path / "no such.png"))
            await pilot.press("enter")
            assert "Not valid" in text(pilot) or "photos" in text(pilot)
            await pilot.press("V", "enter")
            await typed(pilot, str(picture))
            await pilot.press("enter")
            assert "1 photo; V shows them" in text(pilot)
            await pilot.press("V", "enter")
            await pilot.app.workers.wait_for_complete()
            await pilot.pause()
            assert told in " ".join(text(pilot).replace("█", " ").replace("▌", " ").split())
    assert viewer.thread != threading.main_thread().name
    assert viewer.asked[0][-1].startswith(str(tmp_path / "log" / "photos"))


async def test_a_test_of_strength_stands_in_the_record_and_can_be_struck_out(
    book: Book, made: Splice, start: Start
) -> None:
    async with start(book) as pilot:
        await pilot.press("3", "t")
        form_screen(pilot).form.fill({"force": "21.6 kN"})
        assert form_screen(pilot).form.values()["kind"] == "", "whether it broke or held is never guessed"
        await pilot.press("ctrl+s")
        assert form_screen(pilot).form.focused_field == "kind"
        await pilot.press("b", "ctrl+s")
        assert "choose where it failed" in " ".join(text(pilot).split())
        form_screen(pilot).form.fill({"failed_at": "throat", "pin": "25 mm", "machine": "ram [/]"})
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "The rope is in quarantine" in " ".join(text(pilot).split())
        page = " ".join(diary(pilot).describe(diary(pilot).chosen_id, 76).plain.split())
        assert "break 21.6 kN failed: throat, 90 % of the rope's MBS, pin 25 mm, ram [/]" in page
        await pilot.press("x", "enter")
        await typed(pilot, "load cell was off")
        await pilot.press("enter")
        await pilot.pause()
        assert book.strength.of(made.id) == ()
        assert "none; t enters one" in diary(pilot).describe(diary(pilot).chosen_id, 76).plain
        await pilot.press("x")
        assert "No test of strength is entered" in text(pilot)


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_every_filter_comes_into_view_on_a_small_terminal(
    book: Book, made: Splice, start: Start, size: tuple[int, int]
) -> None:
    async with start(book, size) as pilot:
        await pilot.press("3", "n")
        filters = pilot.app.screen.query_one(FormView)
        assert filters.focused_field == "rope"
        for field in filters.fields:
            filters.focus_field(field.name)
            await pilot.pause()
            await pilot.pause()
            assert filters.focused_field == field.name
            assert in_view(pilot), field.name
