"""Recording without the bench: rope, end, method by some letters, the rest as last time, in few keys."""

from __future__ import annotations

from textual.pilot import Pilot

from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Outcome
from gearlog.services.book import Book
from gearlog.tui.screens.form_screen import FormScreen
from tests.tui.conftest import ROPE, TODAY, Start, add, text, typed


def form_screen(pilot: Pilot[None]) -> FormScreen:
    assert isinstance(pilot.app.screen, FormScreen)
    return pilot.app.screen


async def test_the_same_as_last_time_takes_at_most_ten_keys_from_an_empty_screen(
    book: Book, made: Splice, start: Start
) -> None:
    for number in range(2, 12):
        add(book, **ROPE | {"name": f"long climbing line {number}"})
    keys = ["3", "a", *"lon", "enter", "enter", "enter", "g", "ctrl+s"]
    assert len(keys) <= 10
    async with start(book) as pilot:
        await pilot.press(*keys)
        await pilot.pause()
        assert "Saved." in text(pilot)
    new = next(row.splice for row in book.diary.rows() if row.splice.id != made.id)
    assert (new.rope_id, new.end.value, new.method) == (made.rope_id, "B", made.method)
    assert (new.tools, new.finish, new.condition) == (made.tools, made.finish, made.condition)
    assert (new.minutes, new.measured, new.notes, new.outcome) == (None, (), "", Outcome.GOOD)
    assert new.made_on.text == TODAY.isoformat()


async def test_letters_mean_the_rope_whose_tag_begins_so_wherever_the_cursor_stood(
    book: Book, made: Splice, start: Start
) -> None:
    """Ropes that hold the letters elsewhere stand above it and below it; Enter once took whichever lay there."""
    for name, tag in (("a strop for tests", "aa-1"), ("redirect", "strop-7"), ("more strop", "zz-9")):
        add(book, **ROPE | {"name": name, "tag": tag})
    assert made.rope_id
    async with start(book) as pilot:
        await pilot.press("3", "a", "down", "down", "down", *"strop")
        shown = text(pilot)
        assert [line.split()[2] for line in shown.splitlines() if ">" in line] == ["strop-7"]
        assert all(tag in shown for tag in ("aa-1", "zz-9"))
        await pilot.press("enter")
        assert "Which end of strop-7?" in text(pilot)


async def test_how_it_came_out_is_never_filled_in_and_must_be_chosen(book: Book, made: Splice, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("3", "a", "enter", "enter", "enter", "ctrl+s")
        await pilot.pause()
        form = form_screen(pilot).form
        assert (form.values()["outcome"], form.focused_field) == ("", "outcome")
        assert "! is empty; choose one of: good" in text(pilot)
        assert [row.splice for row in book.diary.rows()] == [made]
        await pilot.press("f", "ctrl+s")
        await pilot.pause()
    assert [row.outcome for row in book.diary.rows()] == [Outcome.FAILED, Outcome.GOOD]


async def test_a_scanned_tag_takes_just_that_rope_and_a_past_date_can_be_typed(
    book: Book, made: Splice, start: Start
) -> None:
    for number in range(10, 13):
        add(book, **ROPE | {"name": "another line", "tag": f"line-{number}"})
    wanted = add(book, **ROPE | {"name": "zz", "tag": "line-1"})
    async with start(book) as pilot:
        await pilot.press("3", "a")
        await typed(pilot, "LINE-1")
        await pilot.press("enter", "b", "enter", "enter")
        form = form_screen(pilot).form
        assert "as last time in a rope like it, long-climbing-line" in " ".join(text(pilot).split())
        await pilot.press("g")
        form.focus_field("made_on")
        await pilot.pause()
        await pilot.press("ctrl+u")
        await typed(pilot, "2025-02")
        await pilot.press("ctrl+s")
        await pilot.pause()
    new = next(row.splice for row in book.diary.rows() if row.splice.id != made.id)
    assert (new.rope_id, new.end.value, new.made_on.text) == (wanted.id, "B", "2025-02")


async def test_without_a_rope_in_the_log_it_is_said_what_to_do(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("3", "a")
        assert "No rope is in the log yet" in text(pilot)


async def test_a_form_left_half_way_is_there_again_after_a_restart(book: Book, made: Splice, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("3", "a", "enter", "enter", "enter", "g")
        form_screen(pilot).form.focus_field("measured.taper")
        await pilot.pause()
        await typed(pilot, "268 mm")
    async with start(book) as pilot:
        await pilot.pause()
        assert form_screen(pilot).form.values()["measured.taper"] == "268 mm"
        await pilot.press("ctrl+s")
        assert len(book.diary.rows()) == 2
