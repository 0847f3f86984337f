from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest
from textual.pilot import Pilot

from gearlog.services.book import Book, memory_book
from gearlog.services.importing_choices import read_choices
from gearlog.tui.screens.audit import AuditScreen
from gearlog.tui.screens.import_list import ImportScreen
from tests.tui.conftest import ODD_NAMES, Start, text, typed

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def book() -> Book:
    """An empty log on a day after those of the example list."""
    return memory_book(today=lambda: date(2025, 6, 1))


@pytest.fixture
def old_list(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The example list, in the present folder."""
    monkeypatch.chdir(tmp_path)
    return Path(shutil.copy(ROOT / "sample_data" / "import.csv", tmp_path / "old-list.csv"))


async def look_at(pilot: Pilot[None], path: object, mapping: object = "") -> None:
    """Open a list from the audit."""
    await pilot.press("6", "I", "ctrl+u")
    await typed(pilot, str(path))
    await pilot.press("enter")
    if mapping:
        await typed(pilot, str(mapping))
    await pilot.press("enter")
    await settled(pilot)


async def settled(pilot: Pilot[None]) -> None:
    """The list was tried."""
    await pilot.pause()
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()


async def answer(pilot: Pilot[None], words: str) -> None:
    """Answer the first question by words of its answer."""
    await pilot.press("home", "enter")
    await typed(pilot, words)
    await pilot.press("enter")
    await settled(pilot)


async def test_a_list_is_looked_at_asked_about_taken_in_once_and_taken_back_as_one_step(
    book: Book, start: Start, old_list: Path
) -> None:
    async with start(book) as pilot:
        await look_at(pilot, old_list)
        shown = text(pilot)
        assert "8 lines: 1 to add, 7 asked about. 2 questions" in shown
        assert "'03/04/2024' can mean" in shown
        await pilot.press("ctrl+s")
        assert "2 questions to answer first" in text(pilot)
        await answer(pilot, "day first")
        assert "1 question to answer" in text(pilot)
        await answer(pilot, "not known")
        assert "8 lines: 8 to add." in text(pilot)
        await pilot.press("ctrl+s")
        assert "Add 8 items to the log?" in text(pilot)
        await pilot.press("enter")
        assert book.gear.rows() == ()  # the answer starts on No
        await pilot.press("ctrl+s", "y")
        await settled(pilot)
        assert isinstance(pilot.app.screen, AuditScreen)
        assert "8 items of old-list.csv added" in text(pilot)
        assert "8 items" in pilot.app.screen.page.text
        assert {row.tag for row in book.gear.rows()} == {f"K-{number}" for number in range(1, 9)}
        first = book.gear.by_tag("K-1")
        assert first.first_used_on is not None
        assert first.first_used_on.text == "2024-04-03"
        await look_at(pilot, old_list)
        await pilot.press("escape", "u", "y")
        await settled(pilot)
        assert book.gear.rows() == ()


async def test_what_was_answered_can_be_answered_anew_and_kept_in_a_file(
    book: Book, start: Start, old_list: Path, tmp_path: Path
) -> None:
    async with start(book, (120, 40)) as pilot:
        await look_at(pilot, old_list)
        await answer(pilot, "day first")
        await answer(pilot, "kernmantle")
        assert "answered" in text(pilot)
        screen = pilot.app.screen
        assert isinstance(screen, ImportScreen)
        await answer(pilot, "month first")
        assert screen.choices.dates == "mdy"
        await answer(pilot, "day first")
        screen.rows.choose("column Remarks")
        await pilot.press("enter")
        await typed(pilot, "not used")
        await pilot.press("enter")
        await settled(pilot)
        await pilot.press("M", "ctrl+u")
        await typed(pilot, "kept.toml")
        await pilot.press("enter")
        await pilot.pause()
        kept = read_choices((tmp_path / "kept.toml").read_text(encoding="utf-8"), "kept.toml")
        assert (kept.dates, kept.set["construction"], kept.columns["Remarks"]) == ("dmy", "kernmantle", "-")
        await pilot.press("escape")
        await look_at(pilot, old_list, tmp_path / "kept.toml")
        assert "8 lines: 8 to add." in text(pilot)


async def test_refused_lines_are_left_out_only_when_one_says_so(book: Book, start: Start, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("name,category,bought\nhat,helmet,2024-02-30\nrope bag,other,2024\n")
    async with start(book) as pilot:
        await look_at(pilot, path)
        assert "REFUSED" in text(pilot)
        assert "line 2" in text(pilot)
        await pilot.press("ctrl+s")
        assert "leave 1 refused line out?" in text(pilot)
        await pilot.press("escape")
        assert book.gear.rows() == ()
        await pilot.press("ctrl+s", "y")
        await settled(pilot)
        assert [row.item.name for row in book.gear.rows()] == ["rope bag"]


@pytest.mark.parametrize(("content", "told"), [
    (b"", "is empty"), (b"\x00\x01\x02\xff" * 40, "Not a list"), (b"a,b\n1,2\n", "no heading is known"),
    (b"\xd0\xcf\x11\xe0 old", "old kind"), (b"PK\x03\x04 half of it", "Not a list"),
])  # fmt: skip
async def test_what_is_no_list_is_refused_in_words_and_nothing_is_saved(
    book: Book, start: Start, tmp_path: Path, content: bytes, told: str
) -> None:
    path = tmp_path / "x.csv"
    path.write_bytes(content)
    async with start(book) as pilot:
        await look_at(pilot, path)
        assert told in " ".join(text(pilot).split())
        await pilot.press("ctrl+s", "M", "escape")
        await pilot.pause()
        assert isinstance(pilot.app.screen, AuditScreen)
    assert book.gear.rows() == ()


async def test_a_path_that_is_wrong_is_told_under_its_field(book: Book, start: Start, tmp_path: Path) -> None:
    async with start(book) as pilot:
        for path in ("", "no-such-list.csv", str(tmp_path), "~nobody-here/x.csv"):
            await look_at(pilot, path)
            assert "! " in text(pilot), path
            assert "Take in which list?" in text(pilot)
            await pilot.press("escape")


async def test_names_of_any_kind_in_a_list_stand_as_they_are(book: Book, start: Start, tmp_path: Path) -> None:
    path = tmp_path / "[red] list.csv"
    path.write_text("name,category\n" + "".join(f'"{name}",[/]\n' for name in ODD_NAMES[:3]), encoding="utf-8")
    async with start(book) as pilot:
        await look_at(pilot, path)
        assert "[red] list.csv" in text(pilot)
        assert "'[/]' is not a category" in text(pilot)
        await answer(pilot, "other")
        assert "3 lines: 3 to add." in text(pilot)
        assert "[retired] b" in text(pilot)
        await pilot.press("ctrl+s", "y")
        await settled(pilot)
        assert {row.item.name for row in book.gear.rows()} == set(ODD_NAMES[:3])
