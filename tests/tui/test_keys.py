from __future__ import annotations

import importlib
import pkgutil
import re

import pytest
from textual.app import App
from textual.binding import Binding
from textual.dom import DOMNode

import gearlog.tui
from gearlog.services.book import Book
from gearlog.tui.keys import ACTS, ANSWERS, EVERYWHERE, FOOTERS, KEYS, MOVES, Key, key_at, keys_of
from gearlog.tui.palette import SHOWN_TWICE, offered
from gearlog.tui.widgets.bars import PLACES
from tests.tui.conftest import Start, text, typed

WIDGETS = {"list", "form", "choice", "ticks", "dialog", "choose", "help"}
TAKEN_BY_TEXT = {f"ctrl+{letter}" for letter in "acdekuvwxyz"}
"""F6 and F7 select in the toolkit's text areas; ours let them go to bench and audit, as F2 to F5 go to their places."""
UNSENDABLE = re.compile(r"ctrl\+[him\[]|ctrl\+shift\+.|shift\+enter|ctrl\+\d|alt\+.|ctrl\+p|ctrl\+c|f1[0-2]|shift\+f3")


def strokes(row: Key) -> list[str]:
    return row.keys.split(",")


def classes() -> list[type[DOMNode]]:
    found: set[type[DOMNode]] = set()
    for info in pkgutil.walk_packages(gearlog.tui.__path__, "gearlog.tui."):
        for thing in vars(importlib.import_module(info.name)).values():
            if isinstance(thing, type) and issubclass(thing, DOMNode) and thing.__module__.startswith("gearlog"):
                found.add(thing)
    return sorted(found, key=lambda kind: kind.__name__)


def test_a_key_means_the_same_everywhere() -> None:
    meanings: dict[str, set[str]] = {}
    for row in KEYS:
        for key in strokes(row) if row.id not in ANSWERS else ():
            meanings.setdefault(key, set()).add(row.id)
    assert {key: ids for key, ids in meanings.items() if len(ids) > 1 and key not in MOVES | ACTS} == {}


def test_keys_that_move_are_bound_once_in_each_place() -> None:
    for place in {place for row in KEYS for place in row.where}:
        keys = [key for row in keys_of(place) for key in strokes(row)]
        assert sorted(keys) == sorted(set(keys)), place


def test_every_key_can_be_sent_by_any_terminal_and_is_not_one_that_text_fields_need() -> None:
    for row in KEYS:
        for key in strokes(row):
            assert not UNSENDABLE.fullmatch(key), key
            assert key not in TAKEN_BY_TEXT, key


def test_what_is_vital_while_typing_has_a_key_that_text_fields_let_pass() -> None:
    places = ("today", "gear", "splices", "planner", "bench", "audit")
    for name in ("help", "back", "save", "find", "record", *places, "quit"):
        rows = [row for row in KEYS if row.id in (name, f"{name}-typing")]
        assert any(len(key) > 1 and key not in {"slash", "question_mark"} for row in rows for key in strokes(row)), name


def test_every_key_is_described_and_ids_are_unlike() -> None:
    assert len({row.id for row in KEYS}) == len(KEYS)
    for row in KEYS:
        assert row.words
        assert row.tip.endswith(".")


def test_the_footer_names_six_keys_of_its_screen_and_fits_eighty_columns() -> None:
    from gearlog.tui.widgets.bars import HELP, _length

    rows = {row.id: row for row in KEYS}
    for place, names in FOOTERS.items():
        assert 1 <= len(names) <= 6, place
        reach = {place, EVERYWHERE} | WIDGETS
        assert all(reach & set(rows[name].where) for name in names), place
        pairs = [(rows[name].shown.split(" or ")[0], key_at(name, place).words) for name in names]
        assert _length([*pairs, HELP]) <= 80, place


@pytest.mark.parametrize("kind", classes(), ids=lambda kind: kind.__name__)
def test_every_binding_of_ours_comes_from_the_table_and_has_its_action(kind: type[DOMNode]) -> None:
    own = [binding for binding in kind.__dict__.get("BINDINGS", ()) if isinstance(binding, Binding) and binding.id]
    for binding in own:
        name = binding.action.partition("(")[0]
        assert hasattr(kind, f"action_{name}"), f"{kind.__name__}: {binding.action}"


async def test_the_palette_offers_every_key_of_the_screen_and_runs_it(full: Book, start: Start) -> None:
    for place in FOOTERS:
        tips = {row.tip for row in offered(place)}
        assert tips >= {row.tip for row in keys_of(place, EVERYWHERE) if row.id not in SHOWN_TWICE}
    async with start(full) as pilot:
        await pilot.press("2", "ctrl+p", *"addnew", "enter")
        assert "What do you want to do?" in text(pilot)
        await pilot.press("ctrl+u", *"add new", "enter")
        await pilot.pause()
        assert "Add an item" in text(pilot)
        await typed(pilot, "hat")
        await pilot.press("ctrl+p", *"save", "enter")
        await pilot.pause()
        assert "! is empty" in text(pilot)


async def test_the_help_tells_the_screen_and_its_keys_by_question_mark_and_f1(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await pilot.press("question_mark")
        assert "What asks for attention today" in text(pilot)
        await pilot.press("f1")
        assert len(pilot.app.screen_stack) == 1
        await pilot.press("2", "slash", "f1", "f1", "f1")
        await pilot.pause()
        assert len(pilot.app.screen_stack) == 2
        assert "Keys here" in text(pilot)
        await pilot.press("escape")
        assert len(pilot.app.screen_stack) == 1


def test_the_places_are_the_modes_of_the_app() -> None:
    from gearlog.tui.app import GearlogApp

    assert tuple(GearlogApp.MODES) == PLACES
    assert issubclass(GearlogApp, App)
