"""Every shape planned from the planner by keys alone, as a user goes down the form."""

from __future__ import annotations

import pytest
from textual import events
from textual.pilot import Pilot

from gearlog.services.book import Book
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.screens.planner import PlannerScreen
from gearlog.tui.widgets.controls import LineControl
from gearlog.tui.widgets.picking import PickOne, PickSome
from gearlog.tui.widgets.plan_bars import PlanBar
from tests.tui.conftest import Start, text, typed
from tests.tui.shapes import FORMS
from tests.tui.turns import all_done

LETTERS = {
    "laid-eye": "tucked eye",
    "double-cord": "cord of double",
    "hollow-end-to-end": "end to end hollow",
    "hollow-loop": "endless loop",
    "hollow-sling": "fixed eye",
    "laid-back": "back splice",
    "whip-sailmaker": "sailmaker",
}
"""One method of each shape, and the letters by which a user finds it in the list."""


def desk(pilot: Pilot[None]) -> PlannerScreen:
    assert isinstance(pilot.app.screen, PlannerScreen)
    return pilot.app.screen


def bar(pilot: Pilot[None]) -> str:
    return desk(pilot).query_one(PlanBar).text


async def fast(pilot: Pilot[None], *keys: str) -> None:
    """Press keys as fast as a terminal hands them over."""
    for name in keys:
        key = events.Key(name, name if len(name) == 1 else None)
        key.set_sender(pilot.app)
        assert pilot.app._driver is not None
        pilot.app._driver.send_message(key)
    await all_done(pilot)  # what is pasted next waits for no key: one that comes late would empty the field again


async def go_to(pilot: Pilot[None], name: str) -> None:
    """Down or up the form to a field, field by field."""
    if desk(pilot).form.focused_field == "":
        await pilot.press("tab")
    shown = shown_fields(pilot)
    far = shown.index(name) - shown.index(desk(pilot).form.focused_field)
    await pilot.press(*["down" if far > 0 else "up"] * abs(far))
    await all_done(pilot)
    assert desk(pilot).form.focused_field == name


async def fill_in(pilot: Pilot[None], name: str, words: str) -> None:
    """Type into the field, or choose in it."""
    await go_to(pilot, name)
    control = pilot.app.focused
    if isinstance(control, PickSome):
        far = [value for value, _ in control.field.choices].index(words)
        await fast(pilot, *["right"] * far, "space")
    elif isinstance(control, PickOne):
        values = [value for value, _ in control.choices]
        await fast(pilot, *["right"] * ((values.index(words) - values.index(control.text)) % len(values)))
        assert control.text == words
    else:
        await fast(pilot, "end", "ctrl+u")
        await typed(pilot, words)


async def choose_method(pilot: Pilot[None], letters: str) -> None:
    """The method by its letters: the first opens the list, the rest narrow it."""
    await go_to(pilot, "method")
    await pilot.press(letters[0])
    await pilot.pause()
    assert isinstance(pilot.app.screen, ChooseDialog)
    await typed(pilot, letters[1:])
    await pilot.press("enter")
    await pilot.pause()


@pytest.mark.parametrize("method", LETTERS)
async def test_each_shape_is_planned_by_keys_alone(book: Book, start: Start, method: str) -> None:
    async with start(book) as pilot:
        await pilot.press("4")
        await pilot.pause()
        await fill_in(pilot, "construction", FORMS[method]["construction"])
        await choose_method(pilot, LETTERS[method])
        assert desk(pilot).form.values()["method"] == method
        for name in shown_fields(pilot):
            if name in FORMS[method] and name != "construction":
                await fill_in(pilot, name, FORMS[method][name])
        assert bar(pilot).startswith("PLAN"), bar(pilot)
        await pilot.press("ctrl+g")
        await pilot.pause()
        shown = desk(pilot).page.text
        assert "Marks, from the" in shown
        assert all(len(line) <= 80 for line in text(pilot).splitlines())
        assert {name: desk(pilot).form.values()[name] for name in FORMS[method]} == FORMS[method]


async def test_only_fields_of_the_method_are_shown_and_hidden_ones_keep_their_text(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("4")
        await pilot.pause()
        form = desk(pilot).form
        form.fill(FORMS["hollow-eye"] | {"method": "hollow-eye"})
        await fill_in(pilot, "eye", "170 mm")
        assert shown_fields(pilot)[:5] == ["rope", "end", "method", "eye", "pin"]
        assert "twine" not in shown_fields(pilot)
        await choose_method(pilot, "lock stitch")
        assert form.focused_field == "method"
        assert not {"eye", "pin", "fid", "finished"} & set(shown_fields(pilot))
        assert "twine" in shown_fields(pilot)
        assert bar(pilot).startswith("PLAN")
        await choose_method(pilot, "buried eye")
        assert form.values()["eye"] == "170 mm"
        assert {"eye", "pin", "fid"} <= set(shown_fields(pilot))


async def test_what_the_work_needs_stands_together_in_the_first_picture(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("4")
        await pilot.pause()
        desk(pilot).form.fill(FORMS["cover-eye"] | {"method": "cover-eye"})
        await pilot.pause()
        lines = text(pilot).splitlines()
        labels = ("rope (tag)", "end ", "method", "eye, inside", "pin", "longest fid", "diameter")
        rows = [next(number for number, line in enumerate(lines) if line.startswith(f"  {label}")) for label in labels]
        assert rows == sorted(rows)


async def test_the_list_of_methods_begins_with_what_fits_and_says_why_others_do_not(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("4")
        await pilot.pause()
        await fill_in(pilot, "construction", "three-strand")
        await go_to(pilot, "method")
        await pilot.press("space")
        await pilot.pause()
        dialog = pilot.app.screen
        assert isinstance(dialog, ChooseDialog)
        ids = [value for value, _ in dialog.choices]
        assert ids[:2] == ["", "laid-eye"]
        marked = [words.endswith("(does not fit)") for _, words in dialog.choices]
        assert marked == sorted(marked)
        carrying = [value for value, words in dialog.choices[1:] if not words.endswith("(does not fit)")]
        assert carrying.index("laid-long") < carrying.index("whip-common")
        await typed(pilot, "buried eye in hollow")
        await pilot.pause()
        told = " ".join(text(pilot).replace("█", " ").split())
        assert next(one.reason for one in book.planner.advice({"construction": "three-strand"})
                    if one.method_id == "hollow-eye") in told  # fmt: skip


async def test_page_keys_scroll_the_page_beside_the_form_while_one_types(book: Book, start: Start) -> None:
    async with start(book, (120, 40)) as pilot:
        await pilot.press("4")
        await pilot.pause()
        desk(pilot).form.fill(FORMS["hollow-eye"] | {"method": "hollow-eye"})
        desk(pilot).work_out(desk(pilot).form.values())
        await go_to(pilot, "eye")
        await pilot.press("pagedown")
        assert desk(pilot).page.scroll_offset.y > 10
        assert desk(pilot).form.focused_field == "eye"
        await pilot.press("pageup")
        assert desk(pilot).page.scroll_offset.y == 0


def shown_fields(pilot: Pilot[None]) -> list[str]:
    return [name for name, row in desk(pilot).form._rows.items() if row.display]


async def test_letters_in_one_burst_open_one_list_and_keep_their_order(book: Book, start: Start) -> None:
    """A slow line hands over many keys at once: they were spread over as many lists as there were keys."""
    for burst in ("buried eye", " buried eye"):
        async with start(book) as pilot:
            await pilot.press("4")
            await pilot.pause()
            await go_to(pilot, "method")
            for sign in burst:
                pilot.app.post_message(events.Key("space" if sign == " " else sign, sign))
            await all_done(pilot)
            lists = [screen for screen in pilot.app.screen_stack if isinstance(screen, ChooseDialog)]
            assert len(lists) == 1
            assert lists[0].query_one(LineControl).value == "buried eye"


async def test_a_key_that_comes_before_the_list_is_drawn_breaks_nothing(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("4")
        await pilot.pause()
        await go_to(pilot, "method")
        for key in ("b", "down", "down", "up"):
            pilot.app.post_message(events.Key(key, key if len(key) == 1 else None))
        await all_done(pilot)
        assert isinstance(pilot.app.screen, ChooseDialog)
    ChooseDialog("one?", (("a", "a"),)).action_row(1)  # not mounted: there is no list yet
