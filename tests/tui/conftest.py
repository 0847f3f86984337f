"""A log in memory with a little of everything, a fixed day, and an app at a terminal's size."""

from __future__ import annotations

import os
from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from datetime import UTC, date, datetime, timedelta

import pytest
from textual.pilot import Pilot

from gearlog.domain.item import Item
from gearlog.domain.splice import Splice
from gearlog.services.book import Book, memory_book
from gearlog.tui.app import GearlogApp
from tests.making import made_form
from tests.tui.turns import settled

TODAY = date(2025, 3, 3)
ROPE = {
    "name": "long climbing line", "category": "lifeline", "construction": "cover-loaded", "strands": "16",
    "cover_fibre": "polyester", "core_fibre": "polyamide", "diameter": "12.7 mm", "length_bought": "45 m",
    "breaking_strength": "24 kN",
}  # fmt: skip
ODD_NAMES = (
    "[/]",
    "[red]x",
    "[retired] b",
    "\u202eright\u202c to left \u05d0\u05d1",
    "\u6f22\u5b57 \u7dad",
    "bell\x07 esc\x1b[31m",
)

Start = Callable[..., AbstractAsyncContextManager[Pilot[None]]]


@pytest.fixture(autouse=True)
def _plain_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """The developer's own terminal settings change what is drawn."""
    for name in ("NO_COLOR", "TEXTUAL_THEME", "TEXTUAL_COLOR_SYSTEM", "TEXTUAL"):
        monkeypatch.delenv(name, raising=False)
    os.environ.pop("NO_COLOR", None)


@pytest.fixture
def book() -> Book:
    """An empty log on a fixed day."""
    return memory_book(today=lambda: TODAY, now=lambda: datetime(2025, 3, 3, 12, tzinfo=UTC))


def add(book: Book, **fields: str) -> Item:
    """Add an item to the log."""
    return book.gear.add(book.gear.blank_form() | fields)


def happen(book: Book, item: Item, kind: str, days_ago: int) -> None:
    """Enter an event into an item's history."""
    day = (TODAY - timedelta(days=days_ago)).isoformat()
    book.gear.record_event(item.id, book.gear.blank_event() | {"kind": kind, "happened_on": day})


@pytest.fixture
def full(book: Book) -> Book:
    """A log with something overdue, due soon, in quarantine, retired, and with odd names."""
    add(book, **ROPE)
    for name, kind, days in (
        ("steel connector", "examined", 170), ("helmet", "quarantined", 2), ("old harness", "retired", 9),
        ("pulley", "examined", 3),
    ):  # fmt: skip
        happen(book, add(book, name=name, category="other"), kind, days)
    return book


@pytest.fixture
def made(book: Book) -> Splice:
    """A log with one rope and one splice at its end A, made by a plan."""
    rope = add(book, **ROPE)
    form = book.planner.form_for(rope.id, "A") | {"method": "cover-eye", "eye": "115 mm"}
    plan = book.planner.plan(form)
    start = made_form(book, plan)
    return book.diary.record(
        start | {"measured.1": "540 mm", "finished_eye": "111 mm", "minutes": "48", "notes": "milked [red]twice[/]"},
        plan,
    )


@pytest.fixture
def start() -> Start:
    """Start the app on a log at a size, by default 80 by 24; every fault of the app fails the test."""

    @asynccontextmanager
    async def running(book: Book, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Pilot[None]]:
        app = GearlogApp(book)
        async with app.run_test(size=size, notifications=True) as pilot:
            await pilot.pause()
            press = pilot.press

            async def pressed(*keys: str) -> None:
                """Also what waits for its turn is done, however loaded the machine is."""
                await press(*keys)
                await settled(app)

            pilot.press = pressed  # type: ignore[method-assign]
            yield pilot
            await app.workers.wait_for_complete()

    return running


def text(pilot: Pilot[None]) -> str:
    """What the screen shows, line by line, without colours."""
    strips = pilot.app.screen._compositor.render_strips(pilot.app.size)
    return "\n".join("".join(segment.text for segment in strip) for strip in strips)


async def typed(pilot: Pilot[None], words: str) -> None:
    """Type words into the field in focus as a paste does, at once."""
    from textual.events import Paste

    assert pilot.app.focused is not None
    pilot.app.focused.post_message(Paste(words))
    await pilot.pause()
