"""Finding anything by letters or by its tag, on any screen; a scanner loses no letter and runs no command."""

from __future__ import annotations

from collections.abc import Callable

from textual.events import Key
from textual.pilot import Pilot

from gearlog.services.book import Book
from gearlog.tui.app import GearlogApp
from gearlog.tui.dialogs.find import FindDialog
from gearlog.tui.scanner import GAP, Scanner
from gearlog.tui.screens.kits import KitsScreen
from tests.tui.conftest import Start, add, text, typed

FAST, SLOW = GAP / 4, GAP * 3


def keys(words: str, gap: float, start: float = 100.0) -> list[Key]:
    made = []
    for number, sign in enumerate([*words, "enter"]):
        key = Key(sign, "\r" if sign == "enter" else sign)
        key.time = start + number * gap
        made.append(key)
    return made


def hear(pressed: list[Key]) -> tuple[str, str]:
    """What goes on as keys, and what was scanned."""
    scanner = Scanner(lambda text: text == "rope-12")
    heard = [scanner.take(key) for key in pressed]
    passed = [key.character or "" for one in heard for key in one.keys] + [k.character or "" for k in scanner.release()]
    return "".join(passed), "".join(one.tag for one in heard)


def test_only_a_fast_burst_that_is_a_tag_is_a_scan_and_all_else_goes_on_in_its_order() -> None:
    assert hear(keys("rope-12", FAST)) == ("", "rope-12")
    assert hear(keys("rope-12", SLOW)) == ("rope-12\r", "")
    assert hear(keys("rope-13", FAST)) == ("rope-13\r", "")
    assert hear(keys("ab", FAST)) == ("ab\r", "")
    assert hear([*keys("a", SLOW, 10.0), *keys("rope-12", FAST)]) == ("a\r", "rope-12")


def send(pilot: Pilot[None], words: str) -> None:
    """All keys at once, as a scanner sends them, without a moment for the program."""
    driver = pilot.app._driver
    assert driver is not None
    for sign in [*words, "enter"]:
        driver.send_message(Key({"-": "minus"}.get(sign, sign), "\r" if sign == "enter" else sign))


async def test_a_tag_scanned_into_a_list_opens_its_card_and_runs_no_command(full: Book, start: Start) -> None:
    wanted = add(full, name="rope of climber 2", tag="rape-12", category="other")
    async with start(full) as pilot:
        await pilot.press("2")
        assert isinstance(pilot.app, GearlogApp)
        pilot.app.scans = True
        before = full.version
        send(pilot, "rape-12")
        await pilot.pause(0.3)
        assert pilot.app.screen.chosen_id == wanted.id  # type: ignore[attr-defined]
        assert full.version == before
        assert "rape-12, other" in text(pilot)


async def test_a_kit_is_found_by_letters_and_by_the_tag_on_its_bag(full: Book, start: Start) -> None:
    for name, items in (("kit of climber 1", "pulley"), ("kit of climber 2", "steel-connector")):
        full.kits.add(full.kits.blank_form() | {"name": name, "items": items})
    async with start(full) as pilot:
        await pilot.press("3", "f", *"climber 2", "enter")
        await pilot.pause()
        assert isinstance(pilot.app.screen, KitsScreen)
        assert pilot.app.screen.kits.chosen_row.kit.tag == "kit-of-climber-2"  # type: ignore[union-attr]
        assert "steel-connector" in text(pilot)
        assert isinstance(pilot.app, GearlogApp)
        pilot.app.scans = True
        before = full.version
        send(pilot, "kit-of-climber-1")
        await pilot.pause(0.3)
        assert isinstance(pilot.app.screen, KitsScreen)
        assert pilot.app.screen.kits.chosen_row.kit.tag == "kit-of-climber-1"  # type: ignore[union-attr]
        assert full.version == before
        await pilot.press("escape")
        assert pilot.app.current_mode == "gear"


async def test_a_tag_scanned_in_the_middle_of_an_inspection_answers_nothing_and_loses_nothing(
    full: Book, start: Start
) -> None:
    wanted = add(full, name="rope of climber 2", tag="pwfn-1", category="other")
    async with start(full) as pilot:
        assert isinstance(pilot.app, GearlogApp)
        await pilot.press("2", "i", "enter", "p")
        pilot.app.scans = True
        send(pilot, "pwfn-1")
        await pilot.pause(0.3)
        assert pilot.app.screen.chosen_id == wanted.id  # type: ignore[attr-defined]
        (draft,) = (form for name, form in pilot.app.memory._drafts.items() if name.startswith("gear.inspect"))
        assert draft["sheet"].count('"mark"') == 1


async def until(pilot: Pilot[None], done: Callable[[], bool]) -> None:
    """Wait for an outcome, at most three seconds: a loaded machine takes longer than a fixed pause."""
    for _ in range(60):
        await pilot.pause(0.05)
        if done():
            return


async def test_find_takes_every_letter_also_those_that_come_before_it_stands(full: Book, start: Start) -> None:
    wanted = add(full, name="hat [/]", tag="hat-7", category="helmet")
    add(full, name="hat-7 look-alike", tag="hat-70", category="helmet")
    async with start(full) as pilot:
        driver = pilot.app._driver
        assert driver is not None
        await pilot.press("4")  # the planner: its fields take letters
        driver.send_message(Key("ctrl+f", None))
        send(pilot, "HAT-7")
        await until(pilot, lambda: getattr(pilot.app.screen, "chosen_id", "") == wanted.id)
        assert pilot.app.current_mode == "gear"
        assert pilot.app.screen.chosen_id == wanted.id  # type: ignore[attr-defined]
        await pilot.press("1", "f", *"hxx", "backspace", "backspace", "e")
        assert isinstance(pilot.app.screen, FindDialog)
        assert pilot.app.screen.typed == "he"
        assert "quarantined" in text(pilot)
        await pilot.press("ctrl+f", "ctrl+u")  # a second copy is refused
        await typed_dialog(pilot, "long climb")
        await pilot.press("enter")
        await pilot.pause()
        assert "long climbing line" in text(pilot)


async def typed_dialog(pilot: Pilot[None], words: str) -> None:
    from textual.events import Paste

    pilot.app.screen.post_message(Paste(words))
    await pilot.pause()


async def test_a_form_that_find_leaves_is_kept(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await pilot.press("2", "a")
        await typed(pilot, "half typed")
        await pilot.press("ctrl+f", *"pul", "enter")
        await pilot.pause()
        assert "pulley" in text(pilot)
        await pilot.press("a")
        assert "half typed" in text(pilot)
