"""Keys that come all in one moment, as from a scanner or over a slow line, do what they do one by one."""

from __future__ import annotations

import random
import time
from collections.abc import Iterator, Sequence

import pytest
from textual.events import Key, Paste
from textual.pilot import Pilot

from gearlog.services.book import Book, memory_book
from gearlog.tui.app import GearlogApp
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.gear import GearScreen
from gearlog.tui.widgets.form import FormView
from tests.tui.conftest import ROPE, TODAY, Start, add, text
from tests.tui.turns import PATIENCE_S, all_done, settled

SIGNS = {" ": "space", "-": "minus", ".": "full_stop", "/": "slash"}
PLACES = ("f2", "f3", "f4", "f5", "f6", "f7")
NAMED = {"enter": "\r", "tab": "\t", "space": " "}
MOVING = ("tab", "shift+tab", "down", "up", "enter", "escape", "left", "right", "backspace", "ctrl+s", "ctrl+n")
TYPED = ("12.7 mm", "3", "l", "p", "x-1", " ", "150", "e")


def events(keys: Sequence[str]) -> Iterator[Key]:
    """The events of named keys and of words, sign by sign."""
    for key in keys:
        if key in NAMED or key in MOVING or key.startswith("ctrl+") or key in PLACES:
            yield Key(key, NAMED.get(key))
        else:
            yield from (Key(SIGNS.get(sign, sign), sign) for sign in key)


async def burst(pilot: Pilot[None], keys: Sequence[str]) -> None:
    for event in events(keys):
        pilot.app.post_message(event)
    await all_done(pilot)


async def one_by_one(pilot: Pilot[None], keys: Sequence[str]) -> None:
    for event in events(keys):
        pilot.app.post_message(event)
        await all_done(pilot)


def filled(pilot: Pilot[None]) -> dict[str, str]:
    return {name: value for form in pilot.app.screen.query(FormView) for name, value in form.values().items() if value}


FORMS = {
    "an item": (
        ("2", "a", "My rope", "tab", "myrope-1", "tab", "l", "tab", "tab", "Maker A", "enter", "M 3", "down",
         "S1", "tab"),
        {"name": "My rope", "tag": "myrope-1", "category": "lifeline", "maker": "Maker A", "model": "M 3",
         "serial": "S1"},
    ),
    "a plan": (
        ("4", "ctrl+t", "long", "enter", "B", "enter", "150 mm", "tab", "50 mm", "tab", "tab", "enter", "tab",
         "260 mm", "down", "5 mm"),
        {"rope": "long-climbing-line", "end": "B", "eye": "150 mm", "pin": "50 mm", "fid": "260 mm"},
    ),
    "an event": (
        ("2", "r", "w", "tab", "ctrl+u", "2025-01-02", "tab", "AB", "tab", "in the rain"),
        {"kind": "washed", "happened_on": "2025-01-02", "by": "AB", "notes": "in the rain"},
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", FORMS)
async def test_each_value_of_a_burst_lands_in_its_own_field(full: Book, start: Start, name: str) -> None:
    keys, wanted = FORMS[name]
    async with start(full) as pilot:
        await burst(pilot, keys)
        assert wanted.items() <= filled(pilot).items(), text(pilot)


async def test_a_name_typed_with_the_key_that_opens_the_form_is_typed_into_it(full: Book, start: Start) -> None:
    """None of its letters is taken for a command, not even a number that leads to another screen."""
    async with start(full) as pilot:
        await burst(pilot, ("2", "a", "12 mm, 4 m"))
        assert filled(pilot)["name"] == "12 mm, 4 m"


async def test_saving_twice_in_one_moment_saves_once(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await burst(pilot, ("2", "a", "pulley", "tab", "pulley-9", "tab", "c", "ctrl+s", "ctrl+s", "ctrl+s"))
        assert not isinstance(pilot.app.screen, FormScreen)
        assert [row.tag for row in full.gear.rows()].count("pulley-9") == 1


async def test_a_form_asked_twice_to_save_saves_once(full: Book, start: Start) -> None:
    """The second asking comes when the form is already gone."""
    async with start(full) as pilot:
        await burst(pilot, ("2", "r", "w"))
        form, before = pilot.app.screen.query_one(FormView), full.version
        form.action_save()
        form.action_save()
        await pilot.pause()
        assert full.version == before + 1
        assert isinstance(pilot.app.screen, GearScreen)


@pytest.mark.parametrize("opened", [("2", "a"), ("2", "r"), ("2", "O"), ("3", "a"), ("4",), ("6", "g"), ("2", "i")])
async def test_any_run_of_keys_in_one_burst_does_what_it_does_key_by_key(start: Start, opened: tuple[str, ...]) -> None:
    dice = random.Random(" ".join(opened))  # noqa: S311 (keys, not secrets)
    keys = [dice.choice(dice.choice((MOVING, TYPED))) for _ in range(14)]
    outcomes = []
    for pressed in (burst, one_by_one):
        log = memory_book(today=lambda: TODAY)
        add(log, **ROPE)
        async with start(log) as pilot:
            await one_by_one(pilot, opened)
            await pressed(pilot, keys)
            outcomes.append((filled(pilot), type(pilot.app.screen), text(pilot).splitlines()[0], len(log.gear.rows())))
    assert outcomes[0] == outcomes[1], keys


async def test_a_paste_waits_for_its_turn_as_a_key_does(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await one_by_one(pilot, ("2", "a"))
        for event in (Paste("one"), *events(["tab"]), Paste("two"), *events(["tab", "l"])):
            pilot.app.post_message(event)
        await all_done(pilot)
        assert {"name": "one", "tag": "two", "category": "lifeline"}.items() <= filled(pilot).items()


async def test_keys_go_on_when_the_widget_that_had_one_is_gone(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await one_by_one(pilot, ("2", "a"))
        for event in events(["tab", "x"]):
            pilot.app.post_message(event)
        pilot.app.call_later(pilot.app.screen.query_one(FormView).remove)
        begun = time.monotonic()
        await settled(pilot.app)
        await burst(pilot, ("escape", "1"))
        assert time.monotonic() - begun < PATIENCE_S / 4
        assert "[1 Today]" in text(pilot)


async def test_a_tag_typed_into_a_list_that_only_comes_up_is_no_scan(full: Book, start: Start) -> None:
    """All keys came while the screen before still stood, on which a tag in one burst is taken for a scan."""
    async with start(full) as pilot:
        assert isinstance(pilot.app, GearlogApp)
        pilot.app.scans = True
        await burst(pilot, ("f5", "ctrl+t", "long-climbing-line", "enter", "B", "enter"))
        assert pilot.app.current_mode == "planner"
        assert {"rope": "long-climbing-line", "end": "B"}.items() <= filled(pilot).items()


async def test_keys_that_follow_a_scan_wait_for_the_card_that_it_opens(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        assert isinstance(pilot.app, GearlogApp)
        pilot.app.scans = True
        await one_by_one(pilot, ("f2",))
        await burst(pilot, ("long-climbing-line", "enter", "ctrl+r", "w", "tab", "ctrl+u", "2025-01-02"))
        assert {"kind": "washed", "happened_on": "2025-01-02"}.items() <= filled(pilot).items()
