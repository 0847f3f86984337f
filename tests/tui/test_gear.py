from __future__ import annotations

from textual.pilot import Pilot

from gearlog.domain.vocabulary import Status
from gearlog.services.book import Book
from gearlog.tui.screens.gear import GearScreen
from gearlog.tui.widgets.form import FormView
from tests.tui.conftest import ODD_NAMES, ROPE, Start, add, text, typed


def _gear(pilot: Pilot[None]) -> GearScreen:
    assert isinstance(pilot.app.screen, GearScreen)
    return pilot.app.screen


async def test_a_rope_is_added_by_keys_and_refused_until_its_category_is_told(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        assert "The log is empty" in text(pilot)
        await pilot.press("2", "a")
        await typed(pilot, "work line [/]")
        await pilot.press("ctrl+s")
        assert "! is empty" in text(pilot)
        assert book.gear.rows() == ()
        await pilot.press("l")  # the first category that begins so: lifeline
        form = pilot.app.screen.query_one(FormView)
        while form.focused_field != "construction":
            await pilot.press("down")
        await pilot.press("h", "down")  # hollow braid
        await typed(pilot, "12")
        await pilot.press("ctrl+s")
        item = book.gear.rows()[0].item
        assert (item.name, item.category, item.tag) == ("work line [/]", "lifeline", "work-line")
        assert item.rope is not None
        assert (item.rope.construction, item.rope.strands) == ("hollow-braid", 12)


async def test_history_is_written_struck_out_and_taken_back_by_keys(book: Book, start: Start) -> None:
    item = add(book, **ROPE)
    async with start(book, (80, 40)) as pilot:
        await pilot.press("2", "enter", "r", "e", "x")  # an event that begins with e: examined
        await pilot.press("down", "down")
        await typed(pilot, "inspector 1")
        await pilot.press("ctrl+s")
        assert [event.kind for event in book.gear.card(item.id).events] == ["examined"]
        assert "by inspector 1" in text(pilot)
        await pilot.press("x", "enter")
        await typed(pilot, "wrong rope")
        await pilot.press("enter")
        assert book.gear.card(item.id).events[0].struck_because == "wrong rope"
        assert "STRUCK OUT: wrong rope" in text(pilot)
        await pilot.press("escape", "c", "enter", "ctrl+s")
        assert sorted(row.tag for row in book.gear.rows()) == ["long-climbing-line", "long-climbing-line-2"]
        await pilot.press("u", "enter")  # the question starts on No
        assert len(book.gear.rows()) == 2
        await pilot.press("u", "y")
        assert len(book.gear.rows()) == 1
        await pilot.press("U")
        assert len(book.gear.rows()) == 2


async def test_what_happened_changes_the_status_in_list_and_card(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await pilot.press("2", "slash", "p", "u", "l", "enter", "r", "q", "ctrl+s")
        row = next(row for row in full.gear.rows() if row.name == "pulley")
        assert row.status is Status.QUARANTINED
        assert "quarantined" in text(pilot)


async def test_filter_kind_state_and_order_narrow_together_and_escape_clears_them(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await pilot.press("2", "w")
        await typed(pilot, "quar")
        await pilot.press("enter")
        shown = _gear(pilot).list.rows
        assert [row.name for row in shown.shown] == ["helmet"]
        assert "quarantined, 1 of 5" in text(pilot)
        await pilot.press("escape", "k")
        await typed(pilot, "life")
        await pilot.press("enter")
        assert [row.name for row in shown.shown] == ["long climbing line"]
        await pilot.press("escape", "slash", "z", "z")
        assert "Nothing fits the filter" in text(pilot)
        await pilot.press("escape", "s", "s")
        assert [row.name for row in shown.shown] == sorted(row.name for row in full.gear.rows())
        await pilot.press("S")
        assert [row.name for row in shown.shown] == sorted((row.name for row in full.gear.rows()), reverse=True)


async def test_screen_record_filter_and_an_unfinished_form_come_back_at_the_next_start(
    full: Book, start: Start
) -> None:
    async with start(full) as pilot:
        await pilot.press("2", "slash", "h", "e", "l", "enter", "e", "ctrl+u")
        await typed(pilot, "helmet of [red]climber 2")
        await pilot.press("ctrl+q")
    async with start(full) as pilot:
        await pilot.pause()
        assert "helmet of [red]climber 2" in text(pilot)
        await pilot.press("ctrl+s")
        gear = _gear(pilot)
        assert gear.filter_line.text == "hel"
        assert [row.name for row in gear.list.rows.shown] == ["helmet of [red]climber 2"]
        await pilot.press("e")
        await pilot.pause()
        assert "as you left it" not in text(pilot)


async def test_odd_names_are_shown_as_typed_and_never_obeyed(book: Book, start: Start) -> None:
    for name in ODD_NAMES[:-1]:
        add(book, name=name, category="other")
    async with start(book, (120, 40)) as pilot:
        await pilot.press("2")
        shown = text(pilot)
        for name in ("[/]", "[red]x", "[retired] b", r"\u202eright\u202c", "\u6f22\u5b57"):
            assert name in shown
        await pilot.press("a")
        await typed(pilot, ODD_NAMES[-1])
        await pilot.press("ctrl+s")
        shown = text(pilot)
        assert "\x1b" not in shown
        assert "\x07" not in shown
        assert "bell\u2407 esc\u241b[31m" in shown
        assert len(book.gear.rows()) == len(ODD_NAMES) - 1
        await pilot.press("escape", "1")
        assert "[retired] b" in text(pilot)


async def test_planning_asks_for_the_end_and_refuses_what_is_no_rope(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await pilot.press("2", "p")
        assert "not on record as a rope" in " ".join(text(pilot).split())
        await pilot.press("down", "p", "down", "enter")
        await pilot.pause()
        assert pilot.app.current_mode == "planner"
