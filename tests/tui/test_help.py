"""The help and the footer speak of the page that one sees, not of the place from which it was opened."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from gearlog.domain.splice import Splice
from gearlog.services.book import Book
from gearlog.tui.dialogs.help import HelpDialog
from gearlog.tui.screens.planner import PlannerScreen
from tests.tui.conftest import Start, add, text, typed


async def help_of(pilot: Pilot[None]) -> HelpDialog:
    await pilot.press("f1")
    await pilot.pause()
    dialog = pilot.app.screen
    assert isinstance(dialog, HelpDialog)
    return dialog


@pytest.mark.parametrize(
    ("keys", "title"),
    [
        ("1", "Today"),
        ("4", "Planner"),
        ("1 K", "Kits"),
        ("2 a", "Add an item"),
        ("2 i enter", "Thorough examination"),
        ("3 l", "Lessons"),
    ],
)
async def test_the_help_is_titled_by_the_page_that_it_explains(
    full: Book, made: Splice, start: Start, keys: str, title: str
) -> None:
    assert made.rope_id
    async with start(full) as pilot:
        for key in keys.split():
            await pilot.press(key)
            await pilot.pause()
        dialog = await help_of(pilot)
        assert dialog.heading == title
        assert any(line.strip(" █") == title for line in text(pilot).splitlines())


async def test_the_help_over_two_ropes_is_not_titled_by_the_place(book: Book, start: Start) -> None:
    for name in ("red line", "blue line"):
        add(book, name=name, category="lifeline", construction="kernmantle", diameter="11 mm")
    async with start(book) as pilot:
        await pilot.press("2", "equals_sign")
        await pilot.pause()
        await typed(pilot, "line")
        await pilot.press("enter")
        await pilot.pause()
        assert (await help_of(pilot)).heading == "Two ropes side by side"


async def test_an_import_says_answer_where_enter_answers(
    book: Book, start: Start, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "old.csv").write_text("Name;Diameter\nred line;12\n", encoding="utf-8")
    async with start(book) as pilot:
        await pilot.press("6", "I", "ctrl+u")
        await typed(pilot, "old.csv")
        await pilot.press("enter", "enter")
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        foot = text(pilot).splitlines()[-1]
        assert "enter answer" in foot
        assert "open" not in foot
        assert (await help_of(pilot)).heading == "Import"


async def test_kits_say_take_out_where_an_item_is_taken_out(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await pilot.press("1", "K")
        await pilot.pause()
        foot = text(pilot).splitlines()[-1]
        assert "x take out" in foot
        assert "strike" not in foot
        await help_of(pilot)
        table = text(pilot)
        assert "Take the item out of the kit." in table
        assert "Strike out an entry" not in table


async def test_two_ropes_are_put_side_by_side_while_a_field_of_the_planner_takes_letters(
    book: Book, start: Start
) -> None:
    """The key itself is a letter there; the palette, which the help names, does it."""
    add(book, name="red line", category="lifeline", construction="kernmantle", diameter="11 mm")
    async with start(book) as pilot:
        await pilot.press("4")
        await pilot.pause()
        screen = pilot.app.screen
        assert isinstance(screen, PlannerScreen)
        assert "ctrl+p" in screen.HELP
        screen.form.focus_field("eye")
        await pilot.press("1", "equals_sign")
        assert screen.form.values()["eye"] == "1="
        await pilot.press("ctrl+p")
        await pilot.pause()
        await typed(pilot, "two ropes")
        await pilot.press("enter")
        await pilot.pause()
        assert "Which rope" in text(pilot)
