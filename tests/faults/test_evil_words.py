"""Any text of a log may hold anything: no screen sends it to the terminal as it stands or reads it as markup."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from gearlog.services.book import Book
from gearlog.tui.app import GearlogApp
from tests.faults.conftest import opened
from tests.faults.test_check import rewritten
from tests.services.conftest import TODAY
from tests.services.test_inspecting import WHO, passed
from tests.tui.conftest import text

EVIL = "\x1b]0;stolen\x07\x9b31m\u202e[/][red]\x00\x85\u2028"
OBEYED = frozenset("\x1b\x07\x9b\u202e\x00\x85\u2028\r\x0b\x0c")
FREE = frozenset({
    "name", "notes", "maker", "model", "serial", "standards", "assigned_to", "kept_at", "colour_mark", "contact", "by",
    "to", "made_by", "checked_by", "difficulty_words", "correction_reason", "remark", "reason", "inspector",
    "competence", "text", "title", "message", "source", "formula", "worked", "do", "place", "machine", "tested_by",
    "method_title", "if_short", "if_long", "struck_because", "label",
})  # fmt: skip
WALKS = (
    "f2", "f3", "f3 enter end", "f3 e", "f3 r", "f3 minus", "f3 O", "f3 L", "f3 i", "f3 i enter", "f3 K", "f3 K enter",
    "f3 k", "f3 p", "f3 u", "f3 D enter", "f3 equals_sign", "f4", "f4 enter end", "f4 e", "f4 c", "f4 t", "f4 l",
    "f4 n", "f4 a", "f5", "f5 ctrl+t", "f5 ctrl+l", "f5 ctrl+o", "f6", "f6 g", "f6 m", "f6 X", "f7", "f7 g", "f7 T",
    "f7 B", "ctrl+f", "f1",
)  # fmt: skip


def spoiled(value: Any, name: str = "") -> Any:
    """The same rows, each free text with the evil one behind it."""
    if isinstance(value, dict):
        return {key: spoiled(one, key) for key, one in value.items()}
    if isinstance(value, list):
        return [spoiled(one, name) for one in value]
    return value + EVIL if isinstance(value, str) and name in FREE else value


def fill(book: Book) -> None:
    rope = book.gear.by_tag("rope")
    book.gear.change(rope.id, {"assigned_to": "AB", "kept_at": "van", "serial": "S1", "model": "M"})
    book.inspecting.record(passed(book, rope), WHO)
    kit = book.kits.add(book.kits.blank_form() | {"name": "kit", "assigned_to": "AB"})
    book.kits.put(kit.id, "rope")


@pytest.mark.parametrize("size", [(80, 24), (150, 45)])
async def test_no_screen_obeys_a_text_of_the_log(
    folder: Path, size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(folder.parent)
    with opened(folder) as book:
        fill(book)
    rewritten(folder, lambda tables: tables.update(spoiled(tables)))
    with opened(folder) as book:
        assert not any("cannot be read" in notice for notice in book.notices)
        assert book.today() == TODAY
        app = GearlogApp(book)
        seen = ""
        async with app.run_test(size=size, notifications=True) as pilot:
            for walk in WALKS:
                while len(app.screen_stack) > 1:
                    app.pop_screen()
                for key in (*walk.split(), "pagedown"):
                    await pilot.press(key)
                    shown = text(pilot)
                    assert not OBEYED & set(shown), walk
                    seen += shown
        for words in ("\\x1b]0;stolen", "[/][red]", "\\u202e"):
            assert words in seen
