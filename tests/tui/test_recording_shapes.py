"""A splice of every shape recorded from its plan by keys: only what it has is asked, and its card opens."""

from __future__ import annotations

import pytest

from gearlog.services.book import Book
from gearlog.tui.screens.form_screen import FormScreen
from tests.tui.conftest import ROPE, Start, add, text
from tests.tui.shapes import FORMS
from tests.tui.test_planner import plan_on

EYES = {"cover-eye", "double-cord", "hollow-sling", "laid-eye"}
SHAPES = sorted({*EYES, "hollow-endless-sling", "hollow-loop", "laid-short", "laid-back", "whip-sailmaker"})


@pytest.mark.parametrize("method", SHAPES)
async def test_a_splice_of_each_shape_is_recorded_from_its_plan(book: Book, start: Start, method: str) -> None:
    """A join or a whipping has no eye: the form asked for one all the same."""
    form = FORMS[method]
    kept = {name: form[name] for name in ("construction", "strands", "lay", "diameter") if name in form}
    rope = add(book, **ROPE | {"core_fibre": "", "length_bought": "60 m"} | kept | {"cover_fibre": form["fibre"]})
    async with start(book) as pilot:
        await plan_on(pilot, **{**form, "method": method, "rope": rope.tag, "end": "A", "length": "60 m"})
        await pilot.press("ctrl+r")
        await pilot.pause()
        screen = pilot.app.screen
        assert isinstance(screen, FormScreen), text(pilot)
        assert ("inside length as it came out" in text(pilot)) == (method in EYES)
        assert screen.form.focused_field.startswith("measured.")
        await pilot.press(*"101", "space", "m", "m")
        screen.form.focus_field("outcome")
        await pilot.press("g", "enter", "ctrl+s")
        await pilot.pause()
        made = book.diary.rows()[0].splice
        assert (made.method, made.outcome, made.measured[0].at.text) == (method, "good", "101 mm")
        await pilot.press("f4", "enter")
        await pilot.pause()
        shown = text(pilot)
        assert "Planned against measured" in shown
        first = next(line for line in shown.splitlines() if " 101 mm " in line)
        assert " short " in first or " over " in first
