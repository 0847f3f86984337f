"""Kits by keys: made, filled by scanning, handed over in one change; what must not be used is refused and why."""

from __future__ import annotations

from gearlog.services.book import Book
from tests.tui.conftest import Start, add, happen, text, typed


async def test_a_kit_is_made_filled_by_a_scan_and_handed_over_in_one_change(book: Book, start: Start) -> None:
    items = [add(book, name=f"connector {number}", category="connector") for number in (4, 39)]
    async with start(book) as pilot:
        await pilot.press("2", "K")
        assert "There is no kit yet" in text(pilot)
        await pilot.press("a")
        await typed(pilot, "kit of climber 1")
        await pilot.press("ctrl+s")
        await pilot.pause()
        await pilot.press("plus", *"connector-4", "enter", "plus", *"or39", "enter")
        assert "Nothing bears these letters" in text(pilot)
        await pilot.press("ctrl+u", *"39", "enter")
        (kit,) = book.kits.rows()
        assert [row.tag for row in kit.rows] == ["connector-4", "connector-39"]
        version = book.version
        await pilot.press("L")
        await typed(pilot, "climber 1")
        await pilot.press("enter")
        assert book.version == version + 1
        assert [book.gear.item(item.id).assigned_to for item in items] == ["climber 1", "climber 1"]
        await pilot.press("x", "down", "enter")
        assert [row.tag for row in book.kits.rows()[0].rows] == ["connector-4"]
        await pilot.press("escape")
        assert pilot.app.current_mode == "gear"


async def test_what_must_not_be_used_goes_into_no_kit_and_a_kit_that_holds_it_says_so(book: Book, start: Start) -> None:
    good, bad = (add(book, name=name, category="connector") for name in ("good", "bad"))
    happen(book, bad, "quarantined", days_ago=1)
    book.kits.add(book.kits.blank_form() | {"name": "bag", "items": "good"})
    async with start(book, (120, 40)) as pilot:
        await pilot.press("1", "K", "plus", *"bad", "enter")
        assert "bad is quarantined" in " ".join(text(pilot).split())
        assert len(book.kits.rows()[0].rows) == 1
        await pilot.press("escape")
        happen(book, good, "fall-arrested", days_ago=0)
        await pilot.press("K")
        await pilot.pause()
        assert "NOT ALL FIT" in text(pilot)
        assert "Must not be used" in text(pilot)


async def test_a_kit_tells_when_each_item_in_it_is_due_and_what_is_overdue(book: Book, start: Start) -> None:
    for name, days in (("good", 3), ("late", 200)):
        happen(book, add(book, name=name, category="connector"), "examined", days)
    book.kits.add(book.kits.blank_form() | {"name": "bag", "items": "good, late"})
    book.kits.add(book.kits.blank_form() | {"name": "sack", "items": "good"})
    async with start(book) as pilot:
        await pilot.press("2", "K")
        lines = text(pilot).splitlines()
        assert [("OVERDUE" in line) for line in lines if " bag " in line or " sack " in line][:2] == [True, False]
        inside = [line.split() for line in lines[lines.index(next(one for one in lines if "In it" in one)) :]]
        assert ["good", "2025-08-28", "good"] in inside
        assert ["late", "OVERDUE", "late"] in inside
        await pilot.press("L")
        assert "in one change. OVERDUE in it: late." in " ".join(text(pilot).replace("█", " ").split())


async def test_the_rule_sets_are_chosen_by_ticks_and_the_due_date_follows(book: Book, start: Start) -> None:
    item = add(book, name="harness", category="harness")
    happen(book, item, "examined", days_ago=200)
    assert book.gear.row(item.id).due.state == "overdue"
    async with start(book, (80, 40)) as pilot:
        assert "1 overdue" in text(pilot)
        await pilot.press("comma")
        await typed(pilot, "AB")
        await pilot.press("down", "space")
        chosen = pilot.app.focused
        assert chosen is not None
        chosen.text = "europe-fall-protection"  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert (book.settings.user, book.settings.rule_sets) == ("AB", ("europe-fall-protection",))
        assert book.gear.row(item.id).due.state == "in-date"
        assert "nothing is due" in text(pilot)


async def test_what_was_done_to_a_kit_is_taken_back_and_done_again_where_it_was_done(book: Book, start: Start) -> None:
    add(book, name="helmet", category="helmet", tag="hat-1")
    kit = book.kits.add(book.kits.blank_form() | {"name": "kit of AB"})
    book.kits.put(kit.id, "hat-1")
    async with start(book) as pilot:
        await pilot.press("2", "K")
        assert "hat-1" in text(pilot)
        await pilot.press("u")
        assert "Take back the last change?" in text(pilot)
        await pilot.press("y")
        assert book.kits.kit(kit.id).items == ()
        assert "kit of AB" in text(pilot)
        assert "OVERDUE" not in text(pilot), "nothing is in it"
        await pilot.press("U")
        assert len(book.kits.kit(kit.id).items) == 1
        assert "OVERDUE" in text(pilot)
        await pilot.press("escape")
        assert "[2 Gear]" in text(pilot)
