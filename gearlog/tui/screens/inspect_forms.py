"""The forms of an inspection: a finding, and at its end who inspected and what follows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.inspection import EXAMINATIONS, STRICTNESS, Finding, Severity, Verdict
from gearlog.domain.item import Item
from gearlog.errors import GearlogError
from gearlog.services.filling_forms import fill
from gearlog.services.inspection_forms import FINDING_FORM, INSPECTION_FORM, VERY_END
from gearlog.services.sheet import Sheet
from gearlog.tui.screens.form_screen import Task
from gearlog.tui.widgets.verdict import TITLES, ruled_words

if TYPE_CHECKING:
    from gearlog.services.book import Book

INSPECT, FINISH, FINDING = "gear.inspect", "gear.inspect-end", "gear.finding"
"""Names of drafts; they go on with a colon and the item's id, a finding's with the line as well."""
_ALONG = ("at", "until")
_ORDER = ("words", "measured_from", "at", "until", "severity", "photos")
FINDING_FIELDS = tuple(sorted(FINDING_FORM, key=lambda field: _ORDER.index(field.name)))
"""A finding's fields in the order in which it is told: what, where, how grave."""


def finding_task(
    book: Book, item: Item, sheet: Sheet, line: str, severity: Severity, old: Finding | None = None
) -> Task:
    """Write down, or change, what was seen under a line."""
    asked = next((one.look for one in sheet.lines if one.key == line), "")
    start = fill(FINDING_FORM, {"severity": severity.value, "measured_from": VERY_END} | (_typed(old) if old else {}))
    throat = book.inspecting.throat(item.id)

    def relevant(name: str, _: Mapping[str, str]) -> bool:
        if name == "measured_from":
            return throat is not None
        return item.rope is not None or name not in _ALONG

    def save(values: dict[str, str]) -> Finding:
        made = book.inspecting.finding(sheet, values, line)
        return replace(made, id=old.id) if old is not None else made

    return Task(
        place="gear",
        title="What was seen" if old is None else "Change what was seen",
        fields=FINDING_FIELDS,
        start=start,
        draft=f"{FINDING}:{item.id}:{old.id if old else line}",
        within=f"{INSPECT}:{item.id}",
        save=save,
        check=lambda name, text: book.gear.field_fault(FINDING_FORM, name, text),
        relevant=relevant,
        told=f"{item.tag}: {asked}",
        help="A note is only told, what is to be watched is looked at again next time, a stop takes the item out of "
        "service until it is resolved. Of a rope: the distance from end A, and for a worn stretch where it ends. It "
        "counts from the very end, rope in a splice included; a splice made later moves nothing, a cut at A does.",
    )


def _typed(finding: Finding) -> dict[str, object]:
    return {field.name: getattr(finding, field.name) for field in FINDING_FORM if field.name != "measured_from"}


def finish_task(book: Book, item: Item, sheet: Sheet) -> Task:
    """Who inspected, why they are competent, and what follows."""

    def relevant(name: str, values: Mapping[str, str]) -> bool:
        if name == "verdict_reason":
            return _is_milder(values.get("verdict", ""), sheet.ruled) or bool(values.get(name))
        return name != "next_due_on" or sheet.kind in EXAMINATIONS

    start = book.inspecting.form_for(item.id, sheet.kind)
    return Task(
        place="gear",
        title=f"{TITLES[sheet.kind]}: who, and what follows",
        fields=INSPECTION_FORM,
        start=start | {"verdict": sheet.ruled.value},
        draft=f"{FINISH}:{item.id}",
        within=f"{INSPECT}:{item.id}",
        save=lambda values: book.inspecting.record(sheet, _with_next(book, sheet, start, values)),
        check=lambda name, text: book.gear.field_fault(INSPECTION_FORM, name, text),
        relevant=relevant,
        told=f"{item.tag}, {item.name}. {ruled_words(sheet)} {_due_words(book, item, sheet)}".rstrip(),
        help="The verdict follows from the answers. A stricter one is yours to give; a milder one needs its reason in "
        "writing, and none is milder than a finding that stops. The next date may be earlier than the rules ask, "
        "never later. All of it is saved as one change, which u takes back.",
    )


def _with_next(book: Book, sheet: Sheet, start: Mapping[str, str], values: dict[str, str]) -> dict[str, str]:
    """The form with the rules' next date, where another day was typed and the next date was left as it was."""
    typed = values.get("inspected_on", "")
    if typed == start["inspected_on"] or values.get("next_due_on", "") != start["next_due_on"]:
        return values
    try:
        day = PartialDate.read(typed).earliest()
    except GearlogError:
        return values  # saving tells what is wrong with it
    dates = [one.on for one in book.inspecting.next_dates(sheet.item_id, day) if one.on is not None]
    return values | {"next_due_on": dates[0].isoformat() if dates and start["next_due_on"] else ""}


def _is_milder(verdict: str, ruled: Verdict) -> bool:
    return bool(verdict) and STRICTNESS[Verdict(verdict)] < STRICTNESS[ruled]


def _due_words(book: Book, item: Item, sheet: Sheet) -> str:
    """What the rules set as the next date, and which rule."""
    if sheet.kind not in EXAMINATIONS:
        return ""
    dated = next((one for one in book.inspecting.next_dates(item.id, book.today()) if one.on is not None), None)
    return f"Next due by {dated.on}: {dated.rule}." if dated else ""
