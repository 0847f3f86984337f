from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from textual.pilot import Pilot

from gearlog.services.book import Book, open_book
from gearlog.services.forms import SPLICE_FORM, Field, FieldKind
from gearlog.tui.screens.form_screen import FormScreen, Task
from gearlog.tui.widgets.form import FormView
from tests.tui.conftest import TODAY, Start, add, text, typed

ODD = (
    "", "0", "-1", "12 bananas", "1/0 in", "10**10**10", "[/]", "[red]x", "\u202eabc", "\u6f22" * 50,
    "x\x1b[31m\x07", "9" * 10_000,
)  # fmt: skip


def form(pilot: Pilot[None]) -> FormView:
    return pilot.app.screen.query_one(FormView)


async def test_odd_input_in_every_field_of_the_item_gets_a_line_and_nothing_typed_is_lost(
    full: Book, start: Start
) -> None:
    async with start(full) as pilot:
        await pilot.press("2", "a")
        for odd in ODD:
            values = dict.fromkeys(form(pilot).values(), odd)
            form(pilot).fill(values)
            await pilot.pause()
            form(pilot).action_save()
            await pilot.pause()
            assert isinstance(pilot.app.screen, FormScreen), odd[:20]
            assert form(pilot).values() == values
            assert any(row.fault for row in form(pilot)._rows.values()), odd[:20]
            assert "\x1b" not in text(pilot)
        assert len(full.gear.rows()) == 5


async def test_a_field_says_what_is_wrong_when_it_is_left_and_takes_it_back_when_mended(
    full: Book, start: Start
) -> None:
    async with start(full) as pilot:
        await pilot.press("2", "a")
        form(pilot).focus_field("breaking_strength")
        await pilot.pause()
        await typed(pilot, "22 kn")
        assert form(pilot)._rows["breaking_strength"].fault == ""
        await pilot.press("down")
        assert "kN" in form(pilot)._rows["breaking_strength"].fault
        await pilot.press("up", "ctrl+u")
        await typed(pilot, "22 kN")
        assert form(pilot)._rows["breaking_strength"].fault == ""


async def test_fields_to_pick_take_letters_arrows_a_typed_list_and_ticks(full: Book, start: Start) -> None:
    saved: list[dict[str, str]] = []
    task = Task(place="gear", title="Try", fields=SPLICE_FORM, start={"finish": "glue"}, draft="try", save=saved.append)
    async with start(full) as pilot:
        await pilot.app.push_screen(FormScreen(task))
        await pilot.pause()
        form(pilot).focus_field("outcome")
        await pilot.press("f", "right")  # failed, then cut off
        form(pilot).focus_field("condition")
        await pilot.press("space")
        await typed(pilot, "was")
        await pilot.press("enter", "down", "right", "space", "left", "space", "space")
        assert form(pilot).values()["finish"] == "glue, lock-stitch"
        assert "glue (not in the list)" in " ".join(text(pilot).split())
        await pilot.press("ctrl+s")
        assert saved[0]["outcome"] == "cut-off"
        assert saved[0]["condition"] == "washed"
        assert saved[0]["end"] == ""  # nobody chose one


async def test_a_rebuilt_form_keeps_what_was_typed_and_offers_the_new_words(full: Book, start: Start) -> None:
    one, two = Field("one", "one"), Field("two", "two", FieldKind.CHOICE, (("x", "ex"),))
    task = Task(place="gear", title="Try", fields=(one,), start={}, draft="try", save=dict)
    async with start(full) as pilot:
        await pilot.app.push_screen(FormScreen(task))
        await pilot.pause()
        await typed(pilot, "kept")
        await form(pilot).rebuild((two, Field("three", "three", default="3")))
        assert form(pilot).values() == {"one": "kept", "two": "", "three": "3"}
        form(pilot).offer("two", (("y", "why"),))
        form(pilot).focus_field("two")
        await pilot.press("w")
        assert form(pilot).values()["two"] == "y"


async def test_a_read_only_log_says_so_and_refuses_a_save_without_losing_the_form(tmp_path: Path, start: Start) -> None:
    def clock() -> datetime:
        return datetime(2025, 3, 3, 12, tzinfo=UTC)

    with open_book(tmp_path, today=lambda: TODAY, now=clock) as holder:
        add(holder, name="helmet", category="helmet")
        with open_book(tmp_path, today=lambda: TODAY, now=clock) as follower:
            async with start(follower) as pilot:
                assert "READ-ONLY" in text(pilot).splitlines()[0]
                await pilot.press("2", "a")
                await typed(pilot, "second helmet")
                await pilot.press("down", "down", "h", "h", "h")
                await pilot.press("ctrl+s")
                await pilot.pause()
                assert "Read-only" in text(pilot)
                assert form(pilot).values()["name"] == "second helmet"
                assert len(follower.gear.rows()) == 1
                await pilot.press("escape")
                add(holder, name="rope bag", category="other")
                pilot.app._follow()  # type: ignore[attr-defined]
                await pilot.pause()
                assert "rope bag" in text(pilot)
