from __future__ import annotations

import asyncio
import csv
import io
import json
import threading
import zipfile
from datetime import date
from pathlib import Path
from typing import Any

import pypdf
import pytest
from textual.pilot import Pilot

from gearlog.services.book import Book, open_book, open_sample
from gearlog.services.keeping import verify
from gearlog.tui.screens import audit_desk
from gearlog.tui.screens.audit import AuditScreen
from tests.tui.conftest import ODD_NAMES, TODAY, Start, add, text, typed


@pytest.fixture(autouse=True)
def _elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A log in memory writes into the present folder."""
    monkeypatch.chdir(tmp_path)


async def settled(pilot: Pilot[None]) -> None:
    """What was to be written is written."""
    await pilot.pause()
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()


async def test_what_will_be_written_is_shown_before_and_the_csv_holds_just_that(start: Start, tmp_path: Path) -> None:
    book = open_sample(today=lambda: date(2026, 11, 25))
    items = {row.tag: row for row in book.gear.rows()}
    async with start(book) as pilot:
        await pilot.press("6")
        await pilot.pause()
        screen = pilot.app.screen
        assert isinstance(screen, AuditScreen)
        shown = screen.page.text
        assert f"{len(items)} items" in shown
        assert all(tag[:13] in shown for tag in items)
        overdue = [row.tag for row in items.values() if row.due.state in {"overdue", "never-examined"}]
        assert f"Overdue: {len(overdue)}" in shown
        assert "never left blank" in shown
        await pilot.press("g")
        screen.form.fill({"format": "csv"})
        await pilot.press("ctrl+s")
        assert "Write the audit" in text(pilot)
        await pilot.press("enter")
        await settled(pilot)
        assert "Written: " in text(pilot)
    rows = list(csv.DictReader(io.StringIO((tmp_path / "audit-2026-11-25.csv").read_text(encoding="utf-8"))))
    assert {row["tag"] for row in rows} == set(items)
    assert {row["tag"] for row in rows if "OVERDUE" in row["due because"]} == set(overdue)


async def test_the_set_is_ticked_and_every_format_is_written_under_its_own_name(
    full: Book, start: Start, tmp_path: Path
) -> None:
    add(full, name="spare helmet", category="helmet", kept_at="van 2")
    beginnings = {"pdf": b"%PDF", "html": b"<!", "csv": b"tag", "xlsx": b"PK", "json": b"{"}
    async with start(full, (120, 40)) as pilot:
        await pilot.press("6", "ctrl+g", *["down"] * 3)
        screen = pilot.app.screen
        assert isinstance(screen, AuditScreen)
        assert screen.form.focused_field == "place"
        await pilot.press("space")
        await pilot.pause(0.4)
        assert "1 item," in screen.page.text
        assert "place van 2" in screen.page.text
        for kind in beginnings:
            screen.form.fill({"format": kind})
            await pilot.press("ctrl+s", "enter")
            await settled(pilot)
    for kind, begins in beginnings.items():
        written = (tmp_path / f"audit-{TODAY}-place-van-2.{kind}").read_bytes()
        assert written.startswith(begins), kind
    told = json.loads((tmp_path / f"audit-{TODAY}-place-van-2.json").read_text(encoding="utf-8"))
    assert [item["name"] for item in told["items"]] == ["spare helmet"]


async def test_a_file_that_is_there_is_replaced_only_when_one_says_so(full: Book, start: Start, tmp_path: Path) -> None:
    kept = tmp_path / "mine.pdf"
    kept.write_bytes(b"mine")
    async with start(full) as pilot:
        await pilot.press("6", "ctrl+s", "ctrl+u")
        await typed(pilot, "mine")
        await pilot.press("enter")
        assert "Replace the file that is there?" in text(pilot)
        await pilot.press("enter")
        assert kept.read_bytes() == b"mine"
        await pilot.press("ctrl+u")
        await typed(pilot, "mine.html")
        await pilot.press("enter")
        assert "not .html" in text(pilot)
        await pilot.press("ctrl+u")
        await typed(pilot, "no/such/folder/a.pdf")
        await pilot.press("enter")
        assert "could not be written" in text(pilot)
        await pilot.press("ctrl+u", "enter")
        assert "a file needs a name" in text(pilot)
        await pilot.press("ctrl+u")
        await typed(pilot, "mine")
        await pilot.press("enter", "y")
        await pilot.pause()
    assert kept.read_bytes().startswith(b"%PDF")


async def test_a_form_that_does_not_read_writes_nothing_and_says_where(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await pilot.press("6", "g", "ctrl+u")
        await typed(pilot, "soon")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "Write the audit" not in text(pilot)
        assert "! " in text(pilot)
        assert "NOT CURRENT" in pilot.app.screen.page.text  # type: ignore[attr-defined]


async def test_labels_are_for_what_is_in_use_and_none_is_said(full: Book, start: Start, tmp_path: Path) -> None:
    async with start(full) as pilot:
        await pilot.press("6", "T")
        assert "4 labels" in text(pilot)  # five items, one of them retired
        await pilot.press("enter")
        await pilot.pause()
        assert (tmp_path / f"labels-{TODAY}.pdf").read_bytes().startswith(b"%PDF")
        screen = pilot.app.screen
        assert isinstance(screen, AuditScreen)
        screen.form.fill({"tag": next(row.tag for row in full.gear.rows() if row.item.name == "old harness")})
        await pilot.press("T")
        await pilot.pause()
        assert "nothing to label" in text(pilot)


async def test_names_of_any_kind_stand_on_the_page_as_they_were_typed(book: Book, start: Start) -> None:
    for name in ODD_NAMES[:-1]:  # control signs are refused in a record
        add(book, name=name, category="other", kept_at=name, maker=name)
    async with start(book, (60, 20)) as pilot:
        await pilot.press("6")
        await pilot.pause()
        shown = pilot.app.screen.page.text  # type: ignore[attr-defined]
        assert "[/]" in shown
        assert "[red]x" in shown
        assert "\u202e" not in shown
        await pilot.press("g", "down", "down", "down", "space", "ctrl+s")
        assert "Write the audit" in text(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert "Written" in text(pilot)


async def test_an_empty_log_says_what_to_do(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("6")
        await pilot.pause()
        assert "add gear" in pilot.app.screen.page.text  # type: ignore[attr-defined]
        await pilot.press("T", "B")
        await pilot.pause()
        assert "leaves nothing on the disk" in text(pilot)


async def test_the_whole_log_goes_into_one_file_beside_it(start: Start, tmp_path: Path) -> None:
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        add(book, name="rope", category="other")
        async with start(book) as pilot:
            await pilot.press("6", "B")
            assert "Back up the log" in text(pilot)
            await pilot.press("enter")
            await settled(pilot)
            assert "Backed up" in text(pilot)
    backup = tmp_path / f"log-{TODAY}.zip"
    assert zipfile.is_zipfile(backup)
    assert not verify(backup).findings


async def test_an_audit_of_the_log_on_the_disk_goes_into_its_own_folder(start: Start, tmp_path: Path) -> None:
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        add(book, name="rope", category="other")
        async with start(book) as pilot:
            await pilot.press("6", "ctrl+s", "enter")
            await settled(pilot)
    assert [path.name for path in (tmp_path / "log" / "audits").iterdir()] == [f"audit-{TODAY}.pdf"]


async def test_today_is_not_remembered_as_the_day_of_the_audit(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await pilot.press("6", "g", "down")
        await typed(pilot, "2024-06")
        await pilot.pause(0.4)
        assert full.auditing.blank_form()["on"] == TODAY.isoformat()
        draft = pilot.app.memory.draft("audit")  # type: ignore[attr-defined]
        assert "on" not in draft
        assert draft["since"] == "2024-06"
        await pilot.press("escape", "escape")
        await pilot.pause()
        assert "[1 Today]" in text(pilot)


async def test_a_table_and_the_mark_are_chosen_for_a_spreadsheet(full: Book, start: Start, tmp_path: Path) -> None:
    async with start(full) as pilot:
        await pilot.press("6", "g")
        screen = pilot.app.screen
        assert isinstance(screen, AuditScreen)
        screen.form.fill({"format": "csv", "table": "gaps", "bom": "yes"})
        await pilot.press("ctrl+s")
        assert "CSV of the table gaps, with the mark of UTF-8" in " ".join(text(pilot).split())
        await pilot.press("enter")
        await settled(pilot)
    data = (tmp_path / f"audit-{TODAY}-gaps.csv").read_bytes()
    assert data.startswith(b"\xef\xbb\xbftag,name,missing\r\n")


async def test_the_last_audit_that_was_written_is_offered_as_the_last_one(start: Start, tmp_path: Path) -> None:
    """Its day counts with it, for a thing may have been retired later on that day; the day itself is no last audit."""
    folder = tmp_path / "log"
    with open_book(folder, today=lambda: date(2026, 5, 1)) as book:
        add(book, name="old rope", tag="old", category="other")
        async with start(book) as pilot:
            await pilot.press("6", "ctrl+s", "enter")
            await settled(pilot)
            screen = pilot.app.screen
            assert isinstance(screen, AuditScreen)
            assert screen.made is not None
            assert screen.made[1].since == date(2025, 5, 1)
        item = book.gear.by_tag("old")
        book.gear.record_event(item.id, {"kind": "retired", "happened_on": "2026-05-01"})
    with open_book(folder, today=lambda: date(2026, 11, 1)) as book:
        async with start(book, (120, 40)) as pilot:
            await pilot.press("6")
            await settled(pilot)
            assert "2026-05-01 is the last audit that was written" in " ".join(text(pilot).split())
            assert "left use since 2026-05-01" in text(pilot)
            assert "2026-05-01: retired" in " ".join(pilot.app.screen.page.text.split())  # type: ignore[attr-defined]
            await pilot.press("g", "down")
            await typed(pilot, "2026-05-02")
            await pilot.pause(0.4)
            assert "left use since 2026-05-02: none" in pilot.app.screen.page.text.casefold()  # type: ignore[attr-defined]


async def test_the_report_of_an_examination_is_written_from_the_card_and_from_the_audit(
    start: Start, tmp_path: Path
) -> None:
    async with start(open_sample(today=lambda: date(2026, 11, 1)), (120, 40)) as pilot:
        await pilot.press("2", "slash")
        await typed(pilot, "line-3")
        await pilot.press("enter", "E")
        await pilot.pause()
        assert "Last examined on 2026-09-29. The log tells the rest" in text(pilot)
        await pilot.press("down")
        await typed(pilot, "Tree crew, Yard 1")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "particulars missing: listed as missing" in " ".join(text(pilot).split())
        await pilot.press("6", "E")
        await typed(pilot, "sling-2")
        await pilot.press("enter")
        await pilot.pause()
        assert "Tree crew, Yard 1" in text(pilot)  # for whom it is stays the same
        await pilot.press("ctrl+s")
        await pilot.pause()
    found = sorted(tmp_path.glob("report-*.pdf"))
    assert [path.name.rpartition("-20")[0] for path in found] == ["report-line-3", "report-sling-2"]
    told = "\n".join(page.extract_text() for page in pypdf.PdfReader(found[1]).pages)
    assert "NOT SAFE TO OPERATE" in told
    assert "Tree crew, Yard 1" in told


async def test_what_takes_long_is_written_beside_and_says_so(
    full: Book, start: Start, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    go_on, begun = threading.Event(), threading.Event()
    written = full.auditing.written

    def slow(*given: Any) -> bytes:
        begun.set()
        go_on.wait(10)
        return written(*given)

    monkeypatch.setattr(full.auditing, "written", slow)
    async with start(full) as pilot:
        await pilot.press("6", "ctrl+s", "enter")
        assert await asyncio.to_thread(begun.wait, 10)
        await pilot.pause()
        assert "is being written; wait for it" in text(pilot)
        await pilot.press("escape", "enter", "ctrl+s")
        assert "Write the audit" in text(pilot)
        assert list(tmp_path.glob("*.pdf")) == []
        go_on.set()
        await settled(pilot)
        assert "Written: " in text(pilot)
    assert len(list(tmp_path.glob("*.pdf"))) == 1


async def test_the_audit_of_many_items_is_made_beside_and_nothing_old_is_written_meanwhile(
    full: Book, start: Start, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(audit_desk, "AT_ONCE", 0)
    go_on, made = threading.Event(), full.auditing.audit

    def slow(wanted: Any) -> Any:
        go_on.wait(10)
        return made(wanted)

    monkeypatch.setattr(full.auditing, "audit", slow)
    async with start(full) as pilot:
        await pilot.press("6")
        await pilot.pause(0.3)
        assert "the list is being put together" in text(pilot)
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "wait for it" in text(pilot)
        assert "Write the audit" not in text(pilot)
        go_on.set()
        await settled(pilot)
        assert f"{len(full.gear.rows())} items" in text(pilot)
        await pilot.press("escape", "2")
        add(full, name="new rope", category="other")
        go_on.clear()
        await pilot.press("6")
        await pilot.pause(0.3)
        assert "NOT CURRENT: the list" in text(pilot)
        go_on.set()
        await settled(pilot)
        assert "NOT CURRENT" not in text(pilot)
        await pilot.press("ctrl+s", "enter")
        await settled(pilot)
    (written,) = tmp_path.glob("*.pdf")
    assert f"{len(full.gear.rows())} items" in pypdf.PdfReader(written).pages[0].extract_text()
