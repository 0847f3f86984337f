"""The main job, from an empty log to the list handed over, by the keys that a user presses."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

from textual import events
from textual.keys import _character_to_key
from textual.pilot import Pilot

from gearlog.cli.main import main
from gearlog.services.book import open_book
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.planner import PlannerScreen
from tests.tui.conftest import TODAY, Start, text


async def keyed(pilot: Pilot[None], words: str) -> None:
    """Type words letter by letter, as fast as a terminal hands keys over."""
    for sign in words:
        key = events.Key(_character_to_key(sign), sign)
        key.set_sender(pilot.app)
        assert pilot.app._driver is not None
        pilot.app._driver.send_message(key)
    await pilot.pause()


def form_of(pilot: Pilot[None]) -> Any:
    screen = pilot.app.screen
    assert isinstance(screen, FormScreen | PlannerScreen)
    return screen.form


async def to_field(pilot: Pilot[None], name: str) -> None:
    """Go on from field to field until the one of this name."""
    for _ in range(45):
        if form_of(pilot).focused_field == name:
            return
        await pilot.press("tab")
    raise AssertionError(f"no field {name}, the focus is in {form_of(pilot).focused_field}")


async def fill(pilot: Pilot[None], **fields: str) -> None:
    for name, words in fields.items():
        await to_field(pilot, name)
        await keyed(pilot, words)


async def add_rope(pilot: Pilot[None]) -> None:
    await pilot.press("2", "a")
    await fill(pilot, name="Sling line [/] one", tag="sling-1", category="l", breaking_strength="24 kN")
    await fill(pilot, construction="c", strands="16", cover_fibre="p", diameter="1/2 in", length_bought="45 m")
    await pilot.press("ctrl+s")


async def plan_and_record(pilot: Pilot[None]) -> None:
    await pilot.press("p", "enter")  # of the rope under the cursor, at end A
    await fill(pilot, method=" ")
    await keyed(pilot, "cover-loaded")
    await pilot.press("enter")
    await fill(pilot, eye="115 mm", pin="25 mm", fid="260 mm")
    await pilot.press("ctrl+r")
    marks = {"measured.taper": "266 mm", "measured.1": "21 in", "measured.2": "764 mm"}
    await fill(pilot, **marks, finished_eye="111 mm", outcome="g", minutes="48", difficulties=" ")
    await fill(pilot, difficulty_words="first pull [red]hard[/]", ease="4", notes="milked twice")
    await pilot.press("ctrl+s")


async def find_it_again(pilot: Pilot[None]) -> None:
    """At the rope's end on its card, in the diary, and as what worked last time."""
    assert "[2 Gear]" in text(pilot)
    await pilot.press("enter")
    card = text(pilot)
    assert "Sling line [/] one" in card
    assert "spliced" in next(line for line in card.splitlines() if line.strip().startswith("A  "))
    await pilot.press("3", "enter")
    record = page_of(pilot)
    assert all(words in record for words in ("21 in", "first pull [red]hard[/]", "4 mm short"))
    await pilot.press("4", "ctrl+l")
    assert "the same rope" in text(pilot)
    assert "1 made, 1 good" in text(pilot)


def read_the_files(log: Path) -> None:
    """What was typed stands in the log as it was typed, and the plan beside it, exact."""
    stored = stored_splice(log)
    measured = [(one["mark"], one["at"]) for one in stored["measured"]]
    assert measured == [("taper", "266 mm"), ("1", "21 in"), ("2", "764 mm")]
    assert (stored["finished_eye"], stored["minutes"], stored["end"]) == ("111 mm", 48, "A")
    assert stored["difficulty_words"] == "first pull [red]hard[/]"
    assert stored["plan"]["inputs"]["rope"]["diameter_m"] == 0.0127
    assert {mark["id"]: mark["at_m"] for mark in stored["plan"]["marks"]}["1"] == 2 * 21 * 0.0127


async def test_the_main_job_by_keyboard_on_a_new_log_and_back_after_quitting(tmp_path: Path, start: Start) -> None:
    log = tmp_path / "log"
    with open_book(log, today=lambda: TODAY) as book:
        async with start(book) as pilot:
            await add_rope(pilot)
            await plan_and_record(pilot)
            assert isinstance(pilot.app.screen, PlannerScreen)
            await pilot.press("f3", "q")
    read_the_files(log)

    with open_book(log, today=lambda: TODAY) as book:
        async with start(book) as pilot:
            await find_it_again(pilot)
            await pilot.press("q")
    read_the_files(log)

    out = tmp_path / "list.csv"
    assert main(["--log", str(log), "audit", "--format", "csv", "--out", str(out)], today=lambda: TODAY) in {0, 1}
    rows = list(csv.DictReader(out.read_text(encoding="utf-8").splitlines()))
    assert [row["tag"] for row in rows] == ["sling-1"]
    assert "Sling line [/] one" in rows[0].values()


def page_of(pilot: Pilot[None]) -> str:
    from gearlog.tui.screens.splices import SplicesScreen

    screen = pilot.app.screen
    assert isinstance(screen, SplicesScreen)
    return screen.describe(screen.chosen_id, 78).plain


def stored_splice(log: Path) -> dict[str, Any]:
    """The one splice in the log's files, read as plain text without the program."""
    found: list[dict[str, Any]] = []
    for path in sorted(log.rglob("*")):
        if path.is_file() and path.suffix in {".json", ".jsonl", ".journal"}:
            found += splices_in(path.read_text(encoding="utf-8"))
    assert found
    return found[-1]


def splices_in(words: str) -> list[dict[str, Any]]:
    values = []
    for line in words.splitlines():
        start = line.find("{")
        if start >= 0:
            try:
                values.append(json.loads(line[start:]))
            except ValueError:
                continue
    if not values:
        values = [json.loads(words)]
    return [one for value in values for one in dicts_in(value) if "finished_eye" in one]


def dicts_in(value: object) -> list[dict[str, Any]]:
    if isinstance(value, dict):
        return [value, *(one for part in value.values() for one in dicts_in(part))]
    if isinstance(value, list):
        return [one for part in value for one in dicts_in(part)]
    return []
