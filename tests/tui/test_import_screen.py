from __future__ import annotations

import asyncio
import shutil
import threading
from datetime import date
from pathlib import Path
from typing import Any

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


ROPES = """Tag,Name,Kind,Diameter,Length,Bought
r1,blue,lifeline,11,45 m,03/04/2024
r2,white,rigging rope,1/2,60 m,2024
r3,old,rigging rope,14 mm,30 m,2024-02-31
"""


SAID = (
    (2, "dia", "11 mm"), (2, "bought", "2024-04-03"), (2, "", "kernmantle"), (3, "dia", "1/2 in"),
    (3, "", "three-strand"), (4, "bought", "2024-02"), (4, "", "not known"),
)  # fmt: skip
"""Line, which of several things, what is answered."""


async def said(pilot: Pilot[None], row: str, what: str, words: str) -> None:
    screen = pilot.app.screen
    assert isinstance(screen, ImportScreen)
    screen.rows.choose(row)
    await pilot.press("enter")
    if what:
        await typed(pilot, what)
        await pilot.press("enter")
    await pilot.press("ctrl+u")
    await typed(pilot, words)
    await pilot.press("enter")
    await settled(pilot)


async def test_one_line_and_one_cell_are_answered_by_keys_and_kept_with_the_mapping(
    book: Book, start: Start, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "ropes.csv").write_text(ROPES)
    async with start(book) as pilot:
        await look_at(pilot, tmp_path / "ropes.csv")
        for line, what, words in SAID:
            await said(pilot, f"line {line}", what, words)
        assert "3 lines: 3 to add." in text(pilot)
        await said(pilot, "each construction\x1fr1", "", "hollow")  # what was answered can be answered anew
        await pilot.press("M", "ctrl+u")
        await typed(pilot, "kept.toml")
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("ctrl+s", "y")
        await settled(pilot)
    kept = read_choices((tmp_path / "kept.toml").read_text(encoding="utf-8"), "kept.toml")
    assert kept.cells["Diameter"] == {"11": "11 mm", "1/2": "1/2 in"}
    assert kept.cells["Bought"] == {"03/04/2024": "2024-04-03", "2024-02-31": "2024-02"}
    assert kept.each == {"construction": {"r1": "hollow-braid", "r2": "three-strand", "r3": "unknown"}}
    rope = book.gear.by_tag("r2").rope
    assert rope is not None
    assert (rope.construction, str(rope.diameter)) == ("three-strand", "1/2 in")


async def test_which_encoding_a_list_has_is_answered_on_the_screen(book: Book, start: Start, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes("Name;Kind\nŁódź Ťž;helmet\n".encode("cp1250"))
    async with start(book) as pilot:
        await look_at(pilot, path)
        assert "which encoding" in text(pilot)
        assert "--" not in text(pilot)
        await pilot.press("enter")
        await typed(pilot, "central")
        await pilot.press("enter")
        await settled(pilot)
        assert "1 line: 1 to add." in text(pilot)
        assert "Łódź Ťž" in text(pilot)


async def test_nothing_is_answered_left_or_saved_twice_while_items_are_being_saved(
    book: Book, start: Start, old_list: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The saving is in a thread, so the screen says so and waits."""
    go_on, begun = threading.Event(), threading.Event()
    save = book.importing.save

    def slow(*given: Any, **more: Any) -> Any:
        begun.set()
        go_on.wait(10)
        return save(*given, **more)

    monkeypatch.setattr(book.importing, "save", slow)
    async with start(book) as pilot:
        await look_at(pilot, old_list)
        await answer(pilot, "day first")
        await answer(pilot, "not known")
        await pilot.press("ctrl+s", "y")
        assert await asyncio.to_thread(begun.wait, 10)
        await pilot.pause()
        assert "8 items being saved" in text(pilot)
        await pilot.press("escape", "ctrl+s", "enter")
        assert isinstance(pilot.app.screen, ImportScreen)
        assert "wait for it" in text(pilot)
        assert book.gear.rows() == ()
        go_on.set()
        await settled(pilot)
        assert isinstance(pilot.app.screen, AuditScreen)
        assert len(book.gear.rows()) == 8


async def test_what_was_recognised_of_a_list_is_told_whole(book: Book, start: Start, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("Our gear 2024,,,\nName,Kind,Bought,Odd\nhat,helmet,13/04/2024,x\ncap,helmet,03/04/2024,y\n")
    async with start(book) as pilot:
        await look_at(pilot, path)
        screen = pilot.app.screen
        assert isinstance(screen, ImportScreen)
        screen.rows.choose("note 1")
        await pilot.pause()
        assert "dates in Bought read as day, month, year, because 13/04/2024 can be nothing else" in " ".join(
            text(pilot).split()
        )
        assert "not used: not used" not in text(pilot)


async def test_what_was_shown_before_an_answer_is_not_saved_after_it(
    book: Book, start: Start, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A long list takes its time to be read anew; till then it says so and saves nothing."""
    path = tmp_path / "list.csv"
    path.write_text("Name,Kind,Serial,Shelf\na,helmet,1,left\n")
    go_on = threading.Event()
    prepared = book.importing.prepared
    async with start(book) as pilot:
        await look_at(pilot, path)
        screen = pilot.app.screen
        assert isinstance(screen, ImportScreen)
        monkeypatch.setattr(book.importing, "prepared", lambda *given: (go_on.wait(10), prepared(*given))[1])
        screen.rows.choose("column Shelf")
        await pilot.press("enter")
        await typed(pilot, "notes")
        await pilot.press("enter")
        await pilot.pause(0.7)
        assert "being read with what you said" in text(pilot)
        await pilot.press("ctrl+s")
        assert "still being read" in text(pilot)
        go_on.set()
        await settled(pilot)
        await pilot.press("ctrl+s", "y")
        await settled(pilot)
    assert book.gear.by_tag("a").notes == "Shelf: left"
