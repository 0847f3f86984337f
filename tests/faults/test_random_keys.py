"""Random keys on every screen: the program stands, and the log is sound afterwards."""

from __future__ import annotations

import asyncio
import random
import time
from pathlib import Path

import pytest

from gearlog.services.book import Book, memory_book
from gearlog.services.checking import faults_in
from gearlog.tui import viewer
from gearlog.tui.app import GearlogApp
from gearlog.tui.keys import KEYS
from gearlog.tui.places import MODES
from tests.making import made_form
from tests.services.conftest import HOLLOW
from tests.tui.conftest import ODD_NAMES, TODAY

BURSTS, KEYS_A_BURST = 25, 8  # two hundred keys a screen, as fast as the program takes them
MOST_S = 25.0  # a screen; what is not pressed by then is left out
LEAVING = frozenset({"ctrl+q", "ctrl+c", "q"})
MOVING = ("enter", "escape", "tab", "down", "up", "space", "end", "home", "pagedown", "backspace")
TYPED = (*"abc 12.5m[/]\u05d7\u6f22", "slash", "minus")
OURS = tuple(sorted({key for row in KEYS for key in row.keys.split(",")} - LEAVING))


async def at_once(*_: float) -> None:
    """Keys come as fast as the program takes them; the pilot would wait a tenth of a second after each."""
    await asyncio.sleep(0)


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    """A log with a little of everything; no viewer is started, and what is written lies in a folder of its own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setattr(viewer, "opened", lambda command: None)
    monkeypatch.setattr("textual.app.wait_for_idle", at_once)
    full = memory_book(today=lambda: TODAY)
    for odd in ODD_NAMES[:-1]:  # control signs are refused when they are typed
        full.gear.add({"name": odd, "category": "connector"})
    rope = full.gear.add(HOLLOW | {"tag": "spliced"})
    plan = full.planner.plan(full.planner.form_for(rope.id, "A") | {"method": "hollow-eye", "eye": "150 mm"})
    full.diary.record({**made_form(full, plan), "end": "A", "made_on": "2025-03-01"}, plan)
    full.bench.start(full.planner.plan(full.planner.form_for(rope.id, "B") | {"method": "hollow-eye", "eye": "9 cm"}))
    return full


@pytest.mark.parametrize("place", sorted(MODES))
async def test_no_run_of_keys_breaks_the_program_or_the_log(book: Book, place: str) -> None:
    dice = random.Random(place)  # noqa: S311 (keys, not secrets)
    pressed: list[str] = []
    until = time.monotonic() + MOST_S
    app = GearlogApp(book)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        app.go(place)
        for number in range(BURSTS):
            if time.monotonic() > until:
                break
            burst = [dice.choice(dice.choice((OURS, OURS, MOVING, TYPED))) for _ in range(KEYS_A_BURST)]
            pressed += burst
            await pilot.press(*burst)
            await pilot.pause()
            assert app.is_running, pressed
            if number % 4 == 3:  # back to the screen that is tried
                while len(app.screen_stack) > 1:
                    app.pop_screen()
                app.go(place)
        await pilot.pause()
    assert app.return_code in (0, None), pressed
    assert list(faults_in(book._store)) == [], pressed
