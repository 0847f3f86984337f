"""While a long log is being read the screen says so and nothing else; keys wait for it, and faults are told as ever."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import asynccontextmanager
from pathlib import Path
from threading import Event

import pytest
from textual.pilot import Pilot

from gearlog.domain.settings import Settings
from gearlog.errors import StorageError
from gearlog.services import opening as opening_module
from gearlog.services.book import Book, open_book
from gearlog.services.opening import LONG_LOG, Opening, open_meanwhile
from gearlog.storage import Glance
from gearlog.tui.app import GearlogApp
from gearlog.tui.reading import READING
from tests.services.conftest import TODAY
from tests.tui.conftest import ROPE, add, book, full, text  # noqa: F401 (fixtures)

LONG = Glance(name="ten years", bytes=LONG_LOG)


class Slow:
    """A log that takes as long to read as a test wants."""

    def __init__(self, give: Callable[[], Book], seen: Glance = LONG) -> None:
        self.read = Event()
        self.asked = Event()
        self.give = give
        self.opening = Opening(self.make, seen)

    def make(self) -> Book:
        self.asked.set()
        self.read.wait()
        return self.give()


@pytest.fixture
def slow(full: Book) -> Iterator[Slow]:  # noqa: F811 (the fixture)
    made = Slow(lambda: full)
    yield made
    made.read.set()


@asynccontextmanager
async def waiting(slow: Slow, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Pilot[None]]:
    app = GearlogApp(slow.opening.soon(), slow.opening)
    async with app.run_test(size=size, notifications=True) as pilot:
        await pilot.pause()
        yield pilot


async def until(pilot: Pilot[None], words: str) -> str:
    for _ in range(200):
        await asyncio.sleep(0.02)
        await pilot.pause()
        if words in text(pilot):
            return text(pilot)
    pytest.fail(f"{words!r} never came: {text(pilot)}")


async def test_what_is_due_is_not_told_before_the_log_is_read(slow: Slow) -> None:
    async with waiting(slow) as pilot:
        assert slow.asked.wait(5), "it is read as soon as the first picture stands"
        lines = text(pilot).splitlines()
        assert "[1 Today]" in lines[0]
        assert "ten years" in lines[0]
        assert READING in lines[2]
        assert [line for line in lines[3:-1] if line.strip()] == [], "and nothing else"
        slow.read.set()
        shown = await until(pilot, "overdue")
        assert READING not in shown


async def test_nothing_is_read_before_the_first_picture_stands(slow: Slow) -> None:
    assert slow.opening.soon() is None
    assert not slow.asked.wait(0.1)
    slow.read.set()
    slow.opening.leave()
    assert not slow.asked.is_set(), "a log that nobody waits for any more is not read"


async def test_keys_wait_and_are_pressed_in_their_order(slow: Slow) -> None:
    async with waiting(slow) as pilot:
        await pilot.press("2", "slash", "p", "u", "l", "q")
        assert READING in text(pilot)
        slow.read.set()
        shown = await until(pilot, "pulq")
        assert "[2 Gear]" in shown
        assert pilot.app.return_code is None, "the q was a letter"


async def test_one_leaves_at_once(slow: Slow) -> None:
    async with waiting(slow) as pilot:
        await pilot.press("q")
        assert not pilot.app.is_running or pilot.app._exit
    async with waiting(slow) as pilot:
        await pilot.press("2", "ctrl+q")
        assert not pilot.app.is_running or pilot.app._exit


async def test_a_log_that_does_not_open_is_told_where_the_program_was_called() -> None:
    def refuse() -> Book:
        raise StorageError("the log was written by a newer gearlog")

    slow = Slow(refuse)
    async with waiting(slow) as pilot:
        slow.read.set()
        for _ in range(200):
            await asyncio.sleep(0.02)
            if pilot.app._exit:
                break
        app = pilot.app
        assert isinstance(app, GearlogApp)
        assert isinstance(app.fault, StorageError)
        assert READING in text(pilot)


async def test_the_screen_last_used_comes_with_what_was_found_before_the_rest_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rest = Event()
    monkeypatch.setattr(Book, "read_rest", lambda _: rest.wait(5))
    folder = tmp_path / "log"
    with open_book(folder, today=lambda: TODAY) as made:
        add(made, **ROPE)
        made.keep(screen="gear", theme="night")
    (folder / "log.json").write_bytes(b"spoiled")
    slow = Slow(
        lambda: open_book(folder, today=lambda: TODAY), Glance("log", Settings(screen="gear", theme="night"), LONG_LOG)
    )
    async with waiting(slow) as pilot:
        assert "[2 Gear]" in text(pilot)
        assert pilot.app.theme == "night"
        slow.read.set()
        shown = await until(pilot, "set aside")
        assert "damaged" in shown
        assert "> long-c" in shown
        rest.set()
    slow.opening.leave()
    with open_book(folder, today=lambda: TODAY) as again:
        assert not again.read_only, "it was let go"


def test_a_short_log_is_there_at_once_and_a_slow_disk_holds_nothing_up(
    full: Book,  # noqa: F811 (the fixture)
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    short = Slow(lambda: full, Glance())
    short.read.set()
    assert short.opening.soon() is full
    monkeypatch.setattr(opening_module, "PATIENCE", 0.01)
    slow = Slow(lambda: full, Glance())
    assert slow.opening.soon() is None
    slow.read.set()
    assert slow.opening.result() is full


def test_what_opening_a_short_log_raised_is_raised(tmp_path: Path) -> None:
    (tmp_path / "log").write_text("no folder")
    found = open_meanwhile(tmp_path / "log", lambda: TODAY)
    with pytest.raises(StorageError, match="cannot be opened"):
        found.soon()
    found.leave()
