"""A splicer at the bench who is killed after every single press. Run as a program; prints a JSON report.

Each press is made by a process of its own, forked from this one, which opens the log, presses once, tells what the
bench then shows, and waits to be killed with SIGKILL. The next one has to find exactly that.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from gearlog.services.book import Book, open_book
from tests.making import GOOD
from tests.services.conftest import EYE, HOLLOW

Press = Callable[[Book, str], object]
PRESSES: tuple[tuple[str, Press], ...] = (
    ("measure", lambda book, bench: book.bench.measure(bench, "1", "503 mm")),
    ("remark", lambda book, bench: book.bench.remark(bench, f"remark {book.bench.view(bench).number}")),
    ("pause", lambda book, bench: book.bench.pause(bench)),
    ("resume", lambda book, bench: book.bench.resume(bench)),
    ("done", lambda book, bench: book.bench.done(bench)),
    ("back", lambda book, bench: book.bench.back(bench)),
    ("done", lambda book, bench: book.bench.done(bench)),
)
"""What is pressed at every step."""
SECONDS_A_PRESS = 10


def opened(folder: Path) -> Book:
    return open_book(folder, today=lambda: date(2025, 6, 1))


def begin(folder: Path) -> str:
    with opened(folder) as book:
        rope = book.gear.add(HOLLOW)
        return book.bench.start(book.planner.plan(book.planner.form_for(rope.id, "A") | EYE)).id


def state(book: Book, bench: str) -> dict[str, Any]:
    """What must be found again after a kill."""
    view = book.bench.view(bench)
    return {
        "number": view.number,
        "seconds": [step.seconds for step in view.steps],
        "remarks": [step.remark for step in view.steps],
        "measured": [one.verdict.measured.text for one in view.measurable if one.verdict],
        "paused": view.clock == "paused",
        "state": view.state.value,
    }


def press_and_wait(folder: Path, bench: str, press: Press, told: int) -> None:
    book = opened(folder)
    moments = iter(range(0, 1_000_000, SECONDS_A_PRESS))
    book.bench.clock.seconds = lambda: float(next(moments))
    book.bench.enter(bench)
    press(book, bench)
    book.bench.clock.seconds = time.monotonic
    book.bench.clock.stop(bench)
    os.write(told, json.dumps(state(book, bench)).encode() + b"\n")
    time.sleep(60)


def one_press(folder: Path, bench: str, press: Press) -> dict[str, Any]:
    heard, told = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(heard)
        press_and_wait(folder, bench, press, told)
        os._exit(1)
    os.close(told)
    text = b""
    while not text.endswith(b"\n"):
        part = os.read(heard, 1 << 16)
        if not part:
            break
        text += part
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    os.close(heard)
    shown: dict[str, Any] = json.loads(text)
    return shown


def run(folder: Path) -> dict[str, Any]:
    bench = begin(folder)
    lost: list[str] = []
    kills = 0
    shown: dict[str, Any] = {"number": 1}
    while True:
        with opened(folder) as book:
            steps = book.bench.view(bench).count
        if shown["number"] > steps:
            break
        for name, press in PRESSES:
            shown = one_press(folder, bench, press)
            kills += 1
            with opened(folder) as book:
                found = state(book, bench)
            if found != shown:
                lost.append(f"{name}: {shown} became {found}")
    with opened(folder) as book:
        filled = book.bench.finish_form(bench) | GOOD
        notices = book.notices
        made = book.bench.finish(bench, filled)
    return {"kills": kills, "steps": steps, "lost": lost, "minutes": made.minutes, "notes": made.notes,
            "seconds": sum(shown["seconds"]), "notices": notices}  # fmt: skip


def main(give: Callable[[str], object]) -> None:
    give(json.dumps(run(Path(sys.argv[1]))))


if __name__ == "__main__":
    main(sys.stdout.write)
