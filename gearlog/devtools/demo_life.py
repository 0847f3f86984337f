"""The demo crew's inspections and kits, entered as a person does: each line is looked at, then answered."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from gearlog.domain.inspection import InspectionKind, Mark
from gearlog.services.book import Book

SAID = ("inspector", "competence", "independent")
"""What a table tells of who inspected."""


def inspect(book: Book, work: Mapping[str, Any], on: str) -> None:
    """Enter the inspection that a row of the table tells."""
    item = book.gear.by_tag(work["item"])
    sheet = book.inspecting.sheet(item.id, InspectionKind(work["kind"]))
    for line in sheet.lines:
        sheet = sheet.see(line.key)
    for key, text in work.get("answers", {}).items():
        mark, _, words = text.partition(":")
        sheet = sheet.answer(key, Mark(mark), words)
    sheet = sheet.pass_rest()
    for row in work.get("findings", ()):
        form = {name: text for name, text in row.items() if name != "line"}
        sheet = sheet.with_finding(book.inspecting.finding(sheet, form, row["line"]))
    said = {"inspected_on": on} | {name: work[name] for name in SAID if name in work}
    book.inspecting.record(sheet, said | {"next_due_on": _next_due(book, item.id, work, on)})


def _next_due(book: Book, item_id: str, work: Mapping[str, Any], on: str) -> str:
    """What the table says, or what the rules set where that is earlier; empty where the table says nothing."""
    if "next_due_on" not in work:
        return ""
    said: str = work["next_due_on"]
    ruled = (one.on.isoformat() for one in book.inspecting.next_dates(item_id, date.fromisoformat(on)) if one.on)
    return min([said, *ruled])


def pack(book: Book, work: Mapping[str, Any]) -> None:
    """Enter the kit that a row of the table tells."""
    book.kits.add({name: text for name, text in work.items() if name != "ago"})
