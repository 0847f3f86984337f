"""An audit before it is written: what will be in it, what is missing, what asks for attention, the register."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from gearlog.domain.audited import Audit, AuditItem
from gearlog.errors import Fault
from gearlog.reports.audit_tables import TABLES
from gearlog.reports.audit_words import (
    MISSING,
    attention,
    counts,
    digest_groups,
    head_lines,
    next_due,
    status_words,
    summary,
)
from gearlog.reports.words import plural
from gearlog.services.auditing_forms import Wanted
from gearlog.tui.text import cell
from gearlog.tui.widgets.lines import Column, Line, Tone, heading, padded, paragraph, table

TAG, NAME = 14, 26  # cells at most; the whole of both is in what is written
COUNT = 4  # cells for a number of items
INSET = "    "
PAPERED = frozenset({"pdf", "html", "xlsx"})
"""Formats that are laid out for a paper."""
BEING_MADE = "the list is being put together ..."
PAPER_WORDS = {"a4": "A4", "letter": "Letter"}


@dataclass(frozen=True)
class AuditPage:
    """What is shown of one audit.

    Attributes:
        audit: as it would be written now.
        wanted: as it was asked for.
        leaves: pages of the PDF; 0 while they are counted or where there are none.
        written: the file written last, or empty.
        faults: why the form does not read; then the audit shown is the last good one.
        waiting: whether another one is being made, which is not shown yet.
    """

    audit: Audit
    wanted: Wanted
    leaves: int = 0
    written: str = ""
    faults: tuple[Fault, ...] = ()
    waiting: bool = False

    def lines(self, width: int) -> tuple[Line, ...]:
        """The page."""
        parts = (self._head(width), self._missing(width), self._attention(width), self._register(width))
        return tuple(line for part in parts for line in part)

    def _head(self, width: int) -> Iterator[Line]:
        if self.faults:
            words = "; ".join(f"{fault.reason}, {fault.way_out}" for fault in self.faults)
            yield from paragraph(f"NOT CURRENT, as a field cannot be read: {words}", width, tone=Tone.STOP)
        if self.waiting:
            yield from paragraph(f"NOT CURRENT: {BEING_MADE}", width, tone=Tone.STRONG)
        if self.written:
            yield from paragraph(f"Written: {self.written}", width, tone=Tone.STRONG)
        yield Line("What will be written", Tone.HEAD)
        yield from paragraph(f"{counts(self.audit)}, {self.format_words}.", width, tone=Tone.STRONG)
        for words in _head_words(self.audit, self.wanted.since_is):
            yield from paragraph(words, width)
        for what, count in summary(self.audit)[1:]:
            yield from _counted(count, what, width)
        yield from paragraph(digest_groups(self.audit.digest), width, first="digest  ", tone=Tone.MUTED)

    @property
    def format_words(self) -> str:
        """Format, paper and pages in words."""
        wanted = self.wanted
        paper = f" on {PAPER_WORDS[wanted.paper]}" if wanted.format in PAPERED else ""
        leaves = f", {plural(self.leaves, 'page')}" if self.leaves and wanted.format == "pdf" else ""
        each = ", a page for each item" if wanted.pages and wanted.format in {"pdf", "html"} else ""
        table = f" of the table {wanted.table}" if wanted.format == "csv" and wanted.table != TABLES[0] else ""
        mark = ", with the mark of UTF-8" if wanted.format == "csv" and wanted.bom else ""
        return f"{wanted.format.upper()}{table}{mark}{paper}{leaves}{each}"

    def _missing(self, width: int) -> Iterator[Line]:
        yield from heading("What is missing: it is listed as missing, never left blank")
        if not self.audit.gaps:
            yield Line("Nothing that a record should hold is missing.")
        for what, count in self.audit.gaps:
            yield from _counted(count, what, width)

    def _attention(self, width: int) -> Iterator[Line]:
        for words, found in attention(self.audit):
            yield from heading(f"{words}: {len(found) or 'none'}")
            yield from _told(found, width)

    def _register(self, width: int) -> Iterator[Line]:
        items = self.audit.items
        yield from heading(f"The register: {plural(len(items), 'item')}")
        if not items:
            yield from paragraph("No item is chosen; name fewer sets, or add gear (2, then a).", width)
            return
        columns = (Column("tag"), Column("name"), Column("stands"), Column("next due"), Column("record"))
        rows = [
            (_clipped(item.tag, TAG), _clipped(item.name, NAME), _stands(item), next_due(item), _record(item))
            for item in items
        ]
        yield from table(columns, rows, width)


def being_made(width: int) -> tuple[Line, ...]:
    """The page while there is nothing to show yet."""
    return tuple(paragraph(BEING_MADE, width, tone=Tone.STRONG))


def _head_words(audit: Audit, since_is: str) -> Iterable[str]:
    yield head_lines(audit)[0]
    if since_is:
        yield f"{audit.since} is {since_is}; another day can be typed (g)."
    if audit.late:
        yield f"Entries that tell of days up to then and were written down after it: {audit.late}."


def _counted(count: int, what: str, width: int) -> tuple[Line, ...]:
    """A number and what it counts; none is muted."""
    lines = paragraph(what, width, first=f"{padded(str(count), COUNT, right=True)}  ")
    return lines if count else tuple(replace(line, tone=Tone.MUTED) for line in lines)


def _told(found: Iterable[tuple[AuditItem, str]], width: int) -> Iterator[Line]:
    rows = [(_clipped(item.tag, TAG), why) for item, why in found]
    room = max((len(tag) for tag, _ in rows), default=0)
    for tag, why in rows:
        yield from paragraph(why, width, first=f"{padded(tag, room)}  ")


def _clipped(text: str, width: int) -> str:
    return cell(text, width).rstrip()


def _stands(item: AuditItem) -> str:
    return "OVERDUE" if item.overdue else status_words(item)


def _record(item: AuditItem) -> str:
    """The particulars that an examiner looks for, in one line, and what is missing of them."""
    made = " ".join(filter(None, (item.text("maker"), item.text("model"))))
    serial = f"serial {item.text('serial')}" if item.text("serial") else ""
    examined = next((f"examined {one.on} by {one.by or MISSING}" for one in item.examinations), "")
    missing = f"{MISSING}: {', '.join(item.gaps)}" if item.gaps else ""
    return "; ".join(filter(None, (made, serial, item.text("standards"), examined, missing)))
