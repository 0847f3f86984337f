"""Leaving while the log's disk refuses: what was typed is kept, elsewhere if need be, and it is said where."""

from __future__ import annotations

import errno
import stat
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from textual.events import Paste
from textual.pilot import Pilot

from gearlog.services.book import Book, open_book
from gearlog.storage import settings as settings_file
from gearlog.tui.leaving import LeaveDialog
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.widgets.form import FormView
from tests.tui.conftest import ROPE, TODAY, Start, add, text
from tests.tui.turns import all_done


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A log on the disk with one rope."""
    with open_book(tmp_path / "log", today=lambda: TODAY) as log:
        add(log, **ROPE)
        yield log


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The user's own folder."""
    monkeypatch.setattr(Path, "home", lambda: tmp_path / "home")
    (tmp_path / "home").mkdir()
    return tmp_path / "home"


@pytest.fixture
def full_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """No draft can be written any more."""

    def refuse(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(settings_file, "save", refuse)


async def type_an_event(pilot: Pilot[None]) -> None:
    await pilot.press("f3", "r", "w", "tab", "tab", "tab")
    await paste(pilot, "in the rain\nall day")


async def paste(pilot: Pilot[None], words: str) -> None:
    pilot.app.post_message(Paste(words))
    await all_done(pilot)


def words(pilot: Pilot[None]) -> str:
    return " ".join(text(pilot).replace("█", " ").split())


async def test_what_cannot_be_kept_with_the_log_is_asked_about_and_put_elsewhere(
    book: Book, start: Start, home: Path, full_disk: None, capsys: pytest.CaptureFixture[str]
) -> None:
    async with start(book) as pilot:
        await type_an_event(pilot)
        await pilot.press("ctrl+q")
        assert "What was typed in 1 form is not saved" in words(pilot)
        assert "No space left on device" in words(pilot)
        await pilot.press("ctrl+q")
        assert sum(isinstance(screen, LeaveDialog) for screen in pilot.app.screen_stack) == 1
        await pilot.press("n")
        assert isinstance(pilot.app.screen, FormScreen)
        assert pilot.app.screen.query_one(FormView).values()["notes"] == "in the rain\nall day"
        assert list(home.iterdir()) == []
        await pilot.press("ctrl+q", "y")
    (kept,) = home.iterdir()
    assert "[gear.event:long-climbing-line]" in kept.read_text("utf-8")
    assert "kind: washed" in kept.read_text("utf-8")
    assert "notes: in the rain\n    all day" in kept.read_text("utf-8")
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert str(kept) in "".join(capsys.readouterr()).replace("\n", "")


async def test_where_the_own_folder_refuses_too_another_is_taken_and_else_it_is_said_that_it_is_lost(
    book: Book, start: Start, home: Path, full_disk: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    home.rmdir()
    elsewhere = home.with_name("elsewhere")
    monkeypatch.setattr(tempfile, "gettempdir", lambda: str(elsewhere))
    async with start(book) as pilot:
        await type_an_event(pilot)
        await pilot.press("ctrl+q", "y")
        assert "it is lost when you leave" in words(pilot)
        await pilot.press("n")
        assert isinstance(pilot.app.screen, FormScreen)
        elsewhere.mkdir()
        await pilot.press("ctrl+q", "y")
    assert len(list(elsewhere.iterdir())) == 1


async def test_a_sound_disk_asks_nothing_and_what_was_typed_is_there_again(
    book: Book, start: Start, home: Path
) -> None:
    async with start(book) as pilot:
        await type_an_event(pilot)
        await pilot.press("ctrl+q")
        assert not isinstance(pilot.app.screen, LeaveDialog)
    async with start(book) as pilot:
        assert pilot.app.screen.query_one(FormView).values()["notes"] == "in the rain\nall day"
    assert list(home.iterdir()) == []


async def test_a_disk_that_took_it_later_leaves_nothing_at_stake(
    book: Book, start: Start, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with start(book) as pilot:
        with monkeypatch.context() as patch:
            patch.setattr(settings_file, "save", lambda *_: (_ for _ in ()).throw(OSError(errno.ENOSPC, "full")))
            await type_an_event(pilot)
            await pilot.pause(0.7)
        await pilot.press("ctrl+q")
        assert not isinstance(pilot.app.screen, LeaveDialog)
    assert book.folder is not None
    assert "in the rain" in (book.folder / "settings.json").read_text("utf-8")


async def test_however_the_program_ends_what_is_at_stake_is_put_elsewhere(
    book: Book, start: Start, home: Path, full_disk: None
) -> None:
    async with start(book) as pilot:
        await type_an_event(pilot)
    (kept,) = home.iterdir()
    assert "in the rain" in kept.read_text("utf-8")


async def test_of_a_log_that_is_only_read_a_plan_is_no_loss_and_a_record_is(
    book: Book, start: Start, home: Path
) -> None:
    assert book.folder is not None
    with open_book(book.folder, today=lambda: TODAY) as reader:
        assert reader.read_only
        async with start(reader) as pilot:
            await pilot.press("4", "down", "down")
            pilot.app.screen.query_one(FormView).focus_field("eye")
            await pilot.pause()
            await paste(pilot, "150 mm")
            await pilot.press("ctrl+q")
            assert not isinstance(pilot.app.screen, LeaveDialog)
        async with start(reader) as pilot:
            await type_an_event(pilot)
            await pilot.press("ctrl+q")
            assert isinstance(pilot.app.screen, LeaveDialog)
            await pilot.press("y")
    (kept,) = home.iterdir()
    assert "150 mm" not in kept.read_text("utf-8")
