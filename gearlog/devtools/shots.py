"""Takes the README's pictures: the main screens over the demo log, at a fixed size and day.

Run it with ``python -m gearlog.devtools.shots --out sample_data/screens``.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import re
from collections.abc import Awaitable, Callable, Sequence
from datetime import date
from pathlib import Path

from textual.pilot import Pilot

from gearlog.services.book import Book, open_sample
from gearlog.tui.app import GearlogApp

SIZE = (120, 34)  # columns and rows; two columns side by side, and still legible in a browser
DAY = date(2026, 11, 1)
ROPE = "line-2"
BENCH_STEP = 4  # of the splice at the bench: one with several marks and a drawing of two parts
_FONT_LINKS = re.compile(r"@font-face \{.*?\}", re.DOTALL)
_COLOUR_SWITCHES = ("NO_COLOR", "TEXTUAL_THEME", "TEXTUAL_COLOR_SYSTEM")

Way = Callable[[GearlogApp, Pilot[None]], Awaitable[None]]


async def _today(app: GearlogApp, _pilot: Pilot[None]) -> None:
    app.go("today")


async def _gear(app: GearlogApp, pilot: Pilot[None]) -> None:
    app.go("gear", chosen=app.book.gear.by_tag(ROPE).id)
    await pilot.pause()
    await pilot.press("enter")


async def _splices(app: GearlogApp, _pilot: Pilot[None]) -> None:
    app.go("splices", chosen=app.book.diary.rows()[0].splice.id)


async def _planner(app: GearlogApp, _pilot: Pilot[None]) -> None:
    typed = {"method": "cover-eye", "eye": "115 mm", "pin": "32 mm", "fid": "280 mm", "fid_thickness": "4 mm"}
    rope = app.book.gear.by_tag(ROPE)
    app.go("planner", form=app.book.planner.form_for(rope.id, "A") | typed)


async def _bench(app: GearlogApp, pilot: Pilot[None]) -> None:
    book = app.book
    form = book.planner.form_for(book.gear.by_tag(ROPE).id, "A") | {"method": "cover-eye", "eye": "115 mm"}
    book.bench.clock.seconds = lambda: 0.0
    begun = book.bench.start(book.planner.plan(form))
    book.bench.done(begun.id)
    book.bench.measure(begun.id, "2", "765 mm")
    for _ in range(BENCH_STEP - 2):
        book.bench.done(begun.id)
    app.go("bench", chosen=begun.id)
    await pilot.pause()


WAYS: dict[str, Way] = {
    "today": _today, "planner": _planner, "gear": _gear, "splices": _splices, "bench": _bench,
}  # fmt: skip
"""Picture -> the way to its screen."""


async def take(book: Book) -> dict[str, str]:
    """The pictures as SVG, by name."""
    app = GearlogApp(book)
    pictures = {}
    async with app.run_test(size=SIZE) as pilot:
        for name, way in WAYS.items():
            await way(app, pilot)
            await pilot.pause()
            await app.workers.wait_for_complete()
            await pilot.pause()
            pictures[name] = _FONT_LINKS.sub("", app.export_screenshot(title=f"gearlog: {name}"))
    return pictures


def main(arguments: Sequence[str] | None = None) -> None:
    """Take the pictures and write them to ``--out``."""
    parser = argparse.ArgumentParser(description="Take the README's pictures.")
    parser.add_argument("--out", type=Path, required=True, help="folder for the pictures")
    out: Path = parser.parse_args(arguments).out
    for switch in _COLOUR_SWITCHES:
        os.environ.pop(switch, None)
    out.mkdir(parents=True, exist_ok=True)
    book = open_sample(today=lambda: DAY)
    try:
        for name, picture in asyncio.run(take(book)).items():
            (out / f"{name}.svg").write_text(picture, encoding="utf-8")
    finally:
        book.close()


if __name__ == "__main__":
    main()
