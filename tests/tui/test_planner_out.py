"""What leaves the planner: explanations, cards, own methods, and two ropes side by side."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from gearlog.services.book import Book, open_book
from gearlog.tui.dialogs.confirm import ConfirmDialog
from gearlog.tui.dialogs.explain import ExplainDialog
from gearlog.tui.screens.compare import CompareScreen
from gearlog.tui.screens.planner import PlannerScreen
from gearlog.tui.widgets.lines_view import LinesView
from tests.tui.conftest import ROPE, TODAY, Start, add, text, typed
from tests.tui.shapes import FORMS


async def planned(pilot: Pilot[None], method: str, **more: str) -> PlannerScreen:
    await pilot.press("4")
    await pilot.pause()
    screen = pilot.app.screen
    assert isinstance(screen, PlannerScreen)
    screen.form.fill(FORMS.get(method, {}) | {"method": method} | more)
    screen.work_out(screen.form.values())
    await pilot.pause()
    return screen


async def test_one_key_on_a_number_tells_formula_values_inputs_and_source(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        screen = await planned(pilot, "hollow-loop")
        await pilot.press("ctrl+g", "down")
        assert screen.page.at == "finished"
        await pilot.press("y")
        await pilot.pause()
        assert isinstance(pilot.app.screen, ExplainDialog)
        shown = pilot.app.screen.query_one(LinesView).text
        assert "length to cut" in shown
        for name in ("formula", "values", "with", "source"):
            assert f"  {name}" in shown
        await pilot.press("escape")
        assert screen.page.at == "finished"
        while screen.page.at != "marks[0]":
            await pilot.press("down")
        await pilot.press("enter")
        await pilot.pause()
        assert "mark a" in text(pilot)


@pytest.mark.parametrize("kind", ["pdf", "html", "svg"])
async def test_the_card_is_written_where_it_says_and_reads_back(tmp_path: Path, start: Start, kind: str) -> None:
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        async with start(book) as pilot:
            await planned(pilot, "hollow-eye")
            await pilot.press("ctrl+s")
            await pilot.pause()
            assert "Write the bench card" in text(pilot)
            if kind != "pdf":
                await pilot.press("down", "right")
                if kind == "svg":
                    await pilot.press("right")
            await pilot.press("ctrl+s")
            await pilot.pause()
            (path,) = (tmp_path / "log" / "cards").iterdir()
            assert path.name == f"hollow-eye.{kind}"
            data = path.read_bytes()
            beginning = {"pdf": b"%PDF-", "html": b"<!doctype html>", "svg": b"<?xml"}[kind]
            assert data.lower().startswith(beginning.lower())
            if kind != "pdf":
                assert "504 mm" in data.decode()


async def test_a_card_never_takes_the_place_of_a_file_unasked(tmp_path: Path, start: Start) -> None:
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        async with start(book) as pilot:
            await planned(pilot, "hollow-eye")
            await pilot.press("ctrl+s", "ctrl+s")
            await pilot.pause()
            first = tmp_path / "log" / "cards" / "hollow-eye.pdf"
            first.write_bytes(b"mine")
            await pilot.press("ctrl+s")
            await pilot.pause()
            assert "hollow-eye-2.pdf" in text(pilot)
            await pilot.press("end", "ctrl+u")
            await typed(pilot, "hollow-eye.pdf")
            await pilot.press("ctrl+s")
            await pilot.pause()
            assert isinstance(pilot.app.screen, ConfirmDialog)
            await pilot.press("enter")  # it starts on No
            await pilot.pause()
            assert first.read_bytes() == b"mine"
            await pilot.press("ctrl+s", "y")
            await pilot.pause()
            assert first.read_bytes().startswith(b"%PDF-")


async def test_a_stopped_plans_card_bears_the_stop(tmp_path: Path, start: Start) -> None:
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        async with start(book) as pilot:
            await planned(pilot, "hollow-eye", lay="tight")
            await pilot.press("ctrl+s")
            await pilot.pause()
            assert "STOPPED" in text(pilot)
            await pilot.press("down", "right", "ctrl+s")
            await pilot.pause()
            (path,) = (tmp_path / "log" / "cards").iterdir()
            assert path.name.startswith("stop-")
            assert "STOP" in path.read_text(encoding="utf-8")


async def test_a_card_that_cannot_be_written_is_told_under_its_name(tmp_path: Path, start: Start) -> None:
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        async with start(book) as pilot:
            await planned(pilot, "hollow-eye")
            await pilot.press("ctrl+s")
            await pilot.pause()
            await pilot.press("end", "ctrl+u")
            await typed(pilot, "/no/such/folder/[/]card.pdf")
            await pilot.press("ctrl+s")
            await pilot.pause()
            assert "! '/no/such/folder/[/]card.pdf' could not be written" in " ".join(text(pilot).split())


async def beside(book: Book, pilot: Pilot[None]) -> None:
    """From the gear's list, a rope of the log beside another."""
    add(book, **ROPE | {"mass_per_length": "120 g/m"})
    add(book, name="[red] hollow", category="lifeline", construction="hollow-braid", lay="loose", strands="12",
        diameter="12 mm", cover_fibre="polyester", breaking_strength="30 kN")  # fmt: skip
    await pilot.press("2")
    await pilot.pause()
    while "long-climbing" not in " ".join(line for line in text(pilot).splitlines() if line.startswith("> ")):
        await pilot.press("down")
    await pilot.press("equals_sign")
    await pilot.pause()
    assert "Which rope beside it?" in text(pilot)
    await typed(pilot, "hollow")
    await pilot.press("enter")
    await pilot.pause()


async def test_two_ropes_of_the_log_stand_side_by_side(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        await beside(book, pilot)
        assert isinstance(pilot.app.screen, CompareScreen)
        page = " ".join(pilot.app.screen.query_one(LinesView).text.split())
        # 120 g/m over 60 m and 90 m
        for words in ("7.20 kg at 60 m", "10.80 kg at 90 m", "- buried eye in hollow",
                      " is weaker by 6.0 kN", "nothing like it was spliced"):  # fmt: skip
            assert words in page
        first = pilot.app.screen.first
        assert f"breaking strength: {first} is weaker by 6.0 kN" in page
        assert "[red] hollow" in text(pilot)
        assert all(len(line) <= 80 for line in text(pilot).splitlines())
        await pilot.press("escape")
        assert not isinstance(pilot.app.screen, CompareScreen)


async def test_the_names_of_two_ropes_stay_above_their_columns_and_lists_are_set_in(book: Book, start: Start) -> None:
    """Further down the page nothing told which column was which rope, and a folded splice looked like two."""
    async with start(book) as pilot:
        await beside(book, pilot)
        await pilot.press("pagedown", "pagedown")
        await pilot.pause()
        shown = text(pilot)
        assert "What differs" not in shown
        names = next(line for line in shown.splitlines() if "[red] hollow" in line)
        page = pilot.app.screen.query_one(LinesView).text.splitlines()
        number = next(number for number, line in enumerate(page) if "- buried eye in hollow" in line)
        column = page[number].rindex("- buried")
        assert names.index("[red] hollow") - 2 == column  # the page is padded by two cells
        assert page[number + 1].rindex("braid") == column + len("- ")


async def test_a_rope_in_words_that_do_not_read_is_told_and_can_be_mended(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        await beside(book, pilot)
        await pilot.press("equals_sign")
        await pilot.pause()
        await typed(pilot, "in words")
        await pilot.press("enter")
        await pilot.pause()
        await typed(pilot, "cover-loaded, bananas")
        await pilot.press("enter")
        await pilot.pause()
        assert "'bananas' says nothing of a rope" in " ".join(text(pilot).split())
        await pilot.press("end", "ctrl+u")
        await typed(pilot, "kernmantle, 11 mm, polyamide")
        await pilot.press("enter")
        await pilot.pause()
        assert "kernmantle" in pilot.app.screen.query_one(LinesView).text


async def test_an_id_that_cannot_be_is_told_and_can_be_mended(tmp_path: Path, start: Start) -> None:
    """What was typed was gone with the dialog."""
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        async with start(book) as pilot:
            await planned(pilot, "hollow-eye")
            await pilot.press("ctrl+g", "C")
            await pilot.pause()
            await pilot.press("enter")
            await pilot.pause()
            await pilot.press("end", "X", "enter")
            await pilot.pause()
            assert "my-hollow-eyeX' is no id" in text(pilot)
            await pilot.press("end", "backspace", "enter")
            await pilot.pause()
            assert (tmp_path / "log" / "methods" / "my-hollow-eye.toml").exists()


async def test_a_method_is_copied_changed_read_again_and_marked_as_ones_own(tmp_path: Path, start: Start) -> None:
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        async with start(book) as pilot:
            screen = await planned(pilot, "hollow-eye")
            await pilot.press("ctrl+g", "C")
            await pilot.pause()
            await pilot.press("enter")
            await pilot.pause()
            await pilot.press("enter")
            await pilot.pause()
            path = tmp_path / "log" / "methods" / "my-hollow-eye.toml"
            good = path.read_text(encoding="utf-8")
            await pilot.press("R")
            await pilot.pause()
            assert "1 method of your own, all of them read." in text(pilot)
            screen.form.fill({"method": "my-hollow-eye"})
            screen.work_out(screen.form.values())
            await pilot.pause()
            assert "OWN, EXPERIMENTAL" in text(pilot)

            path.write_text(good.replace('formula = "2 * fid"', 'formula = "2 * banana"'), encoding="utf-8")
            await pilot.press("R")
            await pilot.pause()
            assert "my-hollow-eye.toml, line" in " ".join(text(pilot).split())
            assert "banana" in text(pilot)
            screen.form.fill({"method": ""})
            screen.state = type(screen.state)()
            screen.work_out(screen.form.values())
            await pilot.pause()
            assert "Own method files that do not read" in screen.page.text
