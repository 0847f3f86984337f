from __future__ import annotations

import pytest
from textual.pilot import Pilot

from gearlog.errors import Fault
from gearlog.services.book import Book, open_sample
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.gear_forms import ADD, EVENT, task_of
from tests.tui.conftest import ROPE, TODAY, Start, text

SIZES = [(80, 24), (60, 20)]


def in_view(pilot: Pilot[None]) -> bool:
    """Whether the control in focus lies whole between the top line and the key line."""
    focused = pilot.app.focused
    assert focused is not None
    width, height = pilot.app.size
    region, shown = focused.region, pilot.app.screen.find_widget(focused).visible_region
    return region == shown and region.y >= 1 and region.bottom <= height - 1 and region.right <= width


@pytest.mark.parametrize("size", SIZES)
async def test_the_field_in_focus_is_in_view_with_its_fault_from_first_to_last(
    full: Book, start: Start, size: tuple[int, int]
) -> None:
    rope = full.gear.rows()[0].item
    async with start(full, size) as pilot:
        for draft, values in ((ADD, ROPE), (f"{EVENT}:{rope.id}", {"kind": "cut"})):
            screen = FormScreen(task_of(full, draft))
            await pilot.app.push_screen(screen)
            screen.form.fill(values)
            await pilot.pause()
            names = [field.name for field in screen.form.fields if screen.form._rows[field.name].display]
            fault = Fault("", "cannot be read as a length", "type a number and its unit, such as 12.7 mm or 1/2 in")
            for name in names:
                screen.form._rows[name].tell(f"{fault.reason}; {fault.way_out}")
            for name in names:
                screen.form.focus_field(name)
                await pilot.pause()
                await pilot.pause()
                assert screen.form.focused_field == name
                assert in_view(pilot), f"{name} at {size}: {pilot.app.focused}"
            screen.action_back()
            await pilot.pause()


@pytest.mark.parametrize("size", SIZES)
async def test_list_card_dialogs_and_bars_fit_a_small_terminal(full: Book, start: Start, size: tuple[int, int]) -> None:
    async with start(full, size) as pilot:
        await pilot.press("2")
        assert in_view(pilot)
        lines = text(pilot).splitlines()
        assert "[2 Gear]" in lines[0]
        assert lines[-1].rstrip().endswith("help")
        await pilot.press("end", "enter")
        assert in_view(pilot)
        await pilot.press("k")
        assert in_view(pilot)
        await pilot.press("escape", "x")
        assert in_view(pilot)
        await pilot.press("enter")
        assert in_view(pilot)
        await pilot.press("escape", "question_mark")
        assert "esc: close" in text(pilot)


async def test_two_columns_from_a_hundred_on_and_the_record_stays_chosen_when_the_window_changes(
    full: Book, start: Start
) -> None:
    async with start(full, (120, 30)) as pilot:
        await pilot.press("2")
        assert "QUARANTINED" in text(pilot)
        chosen = pilot.app.screen.list.chosen_id  # type: ignore[attr-defined]
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        assert "QUARANTINED" not in text(pilot)
        assert pilot.app.screen.list.chosen_id == chosen  # type: ignore[attr-defined]
        assert in_view(pilot)


async def test_the_first_card_beside_the_list_is_set_in_its_own_width(start: Start) -> None:
    """It was set before the page had its size: the drawing along the rope was folded, off its scale."""
    with open_sample(today=lambda: TODAY) as book:
        async with start(book, size=(120, 40)) as pilot:
            await pilot.press("2")
            await pilot.pause()
            first = card_beside(pilot)
            assert any(line.rstrip().endswith("m B") and line.strip().startswith("A 0") for line in first)
            await pilot.press("down", "up")
            await pilot.pause()
            assert card_beside(pilot) == first


def card_beside(pilot: Pilot[None]) -> list[str]:
    """The lines right of the rule between list and card, without the scrollbar's cells."""
    return [line.split("│", 1)[1].rstrip(" ▁▂▃▄▅▆▇█") for line in text(pilot).splitlines() if "│" in line]
