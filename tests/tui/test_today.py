from __future__ import annotations

import pytest

from gearlog.domain.vocabulary import EventKind
from gearlog.services.book import Book
from gearlog.tui.widgets.record_list import RecordList
from tests.tui.conftest import Start, add, happen, text


async def test_today_tells_the_urgent_first_in_words_and_enter_goes_there(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        shown = text(pilot)
        assert "1 overdue, 1 due soon, 1 quarantined" in shown
        lines = pilot.app.screen.query_one(RecordList).rows.shown
        assert [(line.what, line.name) for line in lines] == [
            ("OVERDUE", "long climbing line"), ("due in 11 days", "steel connector"), ("quarantined", "helmet"),
            ("not on record", "no maker: 3 items"),
        ]  # fmt: skip
        assert "OVERDUE: never examined. Rule: before first use" in shown
        await pilot.press("down", "enter")
        await pilot.pause()
        assert "[2 Gear]" in text(pilot)
        assert "steel connector" in text(pilot)
        assert "examination due on 2025-03-14" in " ".join(text(pilot).split())
        await pilot.press("r", "e", "x", "ctrl+s", "1")
        await pilot.pause()
        assert "due soon" not in text(pilot)


async def test_day_and_night_metric_and_imperial_are_kept(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await pilot.press("f8", "f9", "2", "down", "enter")
        await pilot.pause()
        assert "147.6 ft" in text(pilot)  # 45 m / 0.3048 m
    assert (full.settings.theme, full.settings.unit) == ("night", "imperial")


async def test_what_was_found_on_opening_is_told(full: Book, start: Start, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Book, "notices", ("[/] a damaged file was set aside",))
    async with start(full) as pilot:
        await pilot.pause()
        assert "[/] a damaged file" in text(pilot)


async def test_what_is_unfinished_at_the_bench_and_what_is_not_on_record_are_told_and_enter_goes_there(
    full: Book, start: Start
) -> None:
    rope = full.gear.by_tag("long-climbing-line")
    form = full.planner.form_for(rope.id, "A") | {"method": "cover-eye", "eye": "115 mm"}
    full.bench.start(full.planner.plan(form))
    async with start(full) as pilot:
        pilot.app.clear_notifications()  # the bench greets in the same place
        await pilot.pause()
        assert "1 at the bench" in text(pilot)
        lines = pilot.app.screen.query_one(RecordList)
        assert lines.choose("gaps")
        await pilot.pause()
        assert "Not on record of what is in service: no maker: 3 items" in " ".join(text(pilot).split())
        await pilot.press("enter")
        await pilot.pause()
        assert "with gaps in its record, 3 of 5" in text(pilot)
        await pilot.press("1")
        bench = next(line for line in lines.rows.shown if line.what == "at the bench")
        lines.choose(bench.id)
        await pilot.pause()
        assert "step 1 of" in text(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert pilot.app.current_mode == "bench"


async def test_retired_kit_that_was_not_cut_up_is_told_and_a_reason_keeps_all_its_words(
    book: Book, start: Start
) -> None:
    happen(book, add(book, name="old harness", category="harness"), "retired", 9)
    happen(book, add(book, name="old pulley", category="pulley"), "retired", 9)  # no textile
    quarantined = add(book, name="helmet", category="helmet")
    form = {"happened_on": "2025-03-01", "by": "AB", "notes": "waits: the shell has a crack"}
    book.standing.decide(quarantined.id, EventKind.QUARANTINED, form)
    ending = {"bought_on": "2015-05-01", "life_years_from_made": "10", "category": "helmet"}  # when made is unknown
    happen(book, add(book, name="spare helmet", **ending), "examined", 3)
    async with start(book) as pilot:
        lines = {line.name: line for line in pilot.app.screen.query_one(RecordList).rows.shown}
        assert lines["old harness"].what == "cut it up"
        assert "destruction is not noted" in lines["old harness"].why
        assert "old pulley" not in lines
        assert lines["helmet"].why == "waits: the shell has a crack on 2025-03-01"
        assert lines["spare helmet"].what == "end of life"
        assert "10 years from made" in lines["spare helmet"].why
