"""The page of one item: every particular, every examination, every splice, and all that happened."""

from __future__ import annotations

from gearlog.domain.audited import AuditItem
from gearlog.reports.audit_words import (
    MISSING,
    NOT_ON_RECORD,
    findings_of,
    next_due,
    shown,
    status_words,
    tests_of,
)
from gearlog.reports.paper.flow import Flow
from gearlog.reports.paper.grid import Cell, Column, Grid, Part, bold, plain


def item_page(flow: Flow, item: AuditItem) -> None:
    """Fill a page, or more where the history is long."""
    flow.heading(f"{item.tag}: {item.name}")
    flow.running = f"{item.tag}: {item.name}, continued"
    flow.text(f"{item.category}, used for {item.used_for}. {status_words(item)}; {item.due_reason}.")
    flow.gap()
    _particulars(flow, item)
    _examinations(flow, item)
    if item.splices:
        _splices(flow, item)
    _history(flow, item)
    flow.running = ""


def told(*texts: str) -> Cell:
    """A cell of what a standard asks for: what is not on record stands out."""
    return [bold(MISSING) if text == MISSING else Part(text) for text in texts if text] or [bold(MISSING)]


def _particulars(flow: Flow, item: AuditItem) -> None:
    """Two particulars beside one another, so that a page holds them all."""
    cells: list[Cell] = []
    for one in item.particulars:
        text = shown(one)
        cells += [plain(one.label), [bold(text) if text == MISSING else Part(text)]]
    if len(cells) % 4:
        cells += [[], []]
    columns = [Column("Particular", 2), Column("On record", 4), Column("Particular", 2), Column("On record", 4)]
    Grid(flow, columns).fill(cells[at : at + 4] for at in range(0, len(cells), 4))
    flow.gap()
    flow.text(f"Missing: {'; '.join(item.gaps) or 'nothing'}.")


def _examinations(flow: Flow, item: AuditItem) -> None:
    flow.heading(f"Examinations: {len(item.examinations) or 'never examined'}")
    columns = [Column("Date", 2), Column("Reason", 2), Column("By", 3), Column("Competence", 4), Column("Result", 4),
               Column("Findings", 7), Column("Next due", 2)]  # fmt: skip
    Grid(flow, columns).fill(
        [
            plain(one.on),
            told(one.reason),
            told(one.by),
            plain(one.competence or NOT_ON_RECORD),
            told(one.result),
            told(*findings_of(one)),
            plain(one.next_due or "by the rules"),
        ]
        for one in item.examinations
    )
    flow.gap()
    flow.text(f"Next due: {next_due(item)}. {item.due_reason}.")


def _splices(flow: Flow, item: AuditItem) -> None:
    flow.heading(f"Splices: {len(item.splices)}")
    columns = [Column("End", 1.5), Column("Method", 5), Column("Made", 2), Column("Made by, checked by", 3),
               Column("Outcome, now", 3), Column("Finished", 3), Column("Tests", 5), Column("Missing", 3)]  # fmt: skip
    Grid(flow, columns).fill(
        [
            plain(one.end),
            plain(one.method),
            plain(one.made_on),
            [Part(one.made_by) if one.made_by else bold(MISSING), *plain(f"checked by {one.checked_by or MISSING}")],
            plain(one.outcome, one.stands),
            plain(one.finished or NOT_ON_RECORD),
            plain(*tests_of(one)),
            plain(*one.gaps) or plain("nothing"),
        ]
        for one in item.splices
    )


def _history(flow: Flow, item: AuditItem) -> None:
    flow.heading(f"History: {len(item.history) or 'nothing on record'}")
    columns = [Column("Date", 2), Column("What", 3), Column("By", 3), Column("Particulars", 14)]
    Grid(flow, columns).fill(
        [
            plain(one.on),
            plain(one.what),
            plain(one.by or NOT_ON_RECORD),
            plain(one.words, f"STRUCK OUT: {one.struck}" if one.struck else ""),
        ]
        for one in item.history
    )
