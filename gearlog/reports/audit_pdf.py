"""An audit on paper: a first page that says what there is and what is wrong, the register, and the histories."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from gearlog.domain.audited import Audit, AuditItem, Examined, Particular, Spliced
from gearlog.domain.vocabulary import Status
from gearlog.reports.audit_pages import item_page, told
from gearlog.reports.audit_words import (
    CANONICAL,
    MISSING,
    NOT_ON_RECORD,
    SIGNED_BY,
    TITLE,
    attention,
    findings_of,
    head_lines,
    next_due,
    status_words,
    summary,
    tests_of,
)
from gearlog.reports.paper import faces
from gearlog.reports.paper.flow import TEXT, Flow
from gearlog.reports.paper.flow import TITLE as TITLE_SIZE
from gearlog.reports.paper.furniture import SMALL, foot_of, signatures
from gearlog.reports.paper.grid import Cell, Column, Grid, Part, bold, plain
from gearlog.reports.paper.leaf import PAPERS, printed


def pdf_of(audit: Audit, *, paper: str = "a4", pages: bool = False) -> bytes:
    """The audit as a PDF, lying on its side; ``pages`` adds a page for each item."""
    flow = leaves_of(audit, paper=paper, pages=pages)
    about = f"{TITLE} as of {audit.on} - {len(audit.items)} items"
    return printed(flow.pages(), flow.size, title=about, foot=foot_of(flow, about, audit.digest))


def leaves_of(audit: Audit, *, paper: str, pages: bool) -> Flow:
    """The audit laid out on pages."""
    flow = Flow(PAPERS[paper].turned)
    _first_page(flow, audit)
    if audit.items:
        _register(flow, audit)
        _examinations(flow, audit)
        _splices(flow, audit)
    for item in audit.items if pages else ():
        flow.turn()
        item_page(flow, item)
    return flow


def _first_page(flow: Flow, audit: Audit) -> None:
    flow.text(TITLE, size=TITLE_SIZE, face=faces.BOLD)
    flow.gap()
    flow.lines(head_lines(audit))
    flow.gap()
    Grid(flow, [Column(what, 1) for what, _ in summary(audit)]).fill(
        [[[bold(str(count))] for _, count in summary(audit)]]
    )
    signatures(flow, SIGNED_BY)
    flow.text(CANONICAL, size=SMALL)
    for heading, found in attention(audit):
        flow.heading(f"{heading}: {len(found) or 'none'}", keep=0)
        if found:
            columns = [Column("Item", 2), Column("Name", 3), Column("Category", 2), Column("Why", 8)]
            Grid(flow, columns).fill(
                [[bold(item.tag)], plain(item.name), plain(item.category), plain(why)] for item, why in found
            )
    _gaps(flow, audit)


def _gaps(flow: Flow, audit: Audit) -> None:
    """What is missing and how often; the register names it item by item."""
    flow.heading(f"Missing particulars: {sum(count for _, count in audit.gaps) or 'none'}", keep=3 * TEXT)
    if audit.gaps:
        flow.text("; ".join(f"{gap}: {count}" for gap, count in audit.gaps) + ". The register names them item by item.")


def _register(flow: Flow, audit: Audit) -> None:
    flow.heading("Register")
    columns = [
        Column("Item", 5), Column("Maker, model, serial", 5), Column("Made, bought, used", 5),
        Column("Strength, standards", 5), Column("Last examination", 5), Column("Status, next due", 5),
        Column("Who has it, where", 4), Column("Missing", 5),
    ]  # fmt: skip
    Grid(flow, columns).fill(map(_row, audit.items))


def _row(item: AuditItem) -> Sequence[Cell]:
    known = {particular.id: particular for particular in item.particulars}
    rope = [item.text("construction"), _joined(item.text("diameter"), item.text("length_now"))]
    return (
        [bold(item.tag), *plain(item.name, f"{item.category}, {item.used_for}", *rope)],
        [*_told(known, ("maker", ""), ("model", ""), ("serial", "serial or batch ")), *plain(item.text("contact"))],
        _told(known, ("made_on", "made "), ("bought_on", "bought "), ("first_used_on", "first used "),
              ("life_limit", "limit of life "), ("life_end", "life ends ")),
        _told(known, ("breaking_strength", "breaks at "), ("safe_working_load", "SWL "), ("standards", "standards ")),
        _last(item),
        [bold(status_words(item)) if item.status is not Status.IN_SERVICE else Part(status_words(item)),
         bold(item.due_reason) if item.overdue else Part(f"due {next_due(item)}" if item.due_on else item.due_reason)],
        _told(known, ("assigned_to", ""), ("kept_at", "at ")),
        [bold(gap) for gap in item.gaps] or plain("nothing"),
    )  # fmt: skip


def _told(known: Mapping[str, Particular], *wanted: tuple[str, str]) -> list[Part]:
    """Particulars with their words; what is asked for and is not there stands out."""
    told = []
    for name, lead in wanted:
        particular = known[name]
        if particular.text:
            told.append(Part(lead + particular.text))
        elif particular.asked:
            told.append(bold(f"{particular.label} {MISSING}"))
    return told


def _last(item: AuditItem) -> Cell:
    if not item.examinations:
        return [bold(f"never examined: {MISSING}")]
    one = item.examinations[0]
    return [
        Part(_joined(one.on, one.reason)),
        *([] if one.reason else [bold(f"reason {MISSING}")]),
        Part(one.result) if one.result else bold(f"result {MISSING}"),
        *(
            Part(text) if text != MISSING else bold(f"findings {MISSING}")
            for text in findings_of(one)
            if text != "none"
        ),
        Part(f"by {one.by}") if one.by else bold(f"by {MISSING}"),
    ]


def _joined(*texts: str) -> str:
    return ", ".join(text for text in texts if text)


def _examinations(flow: Flow, audit: Audit) -> None:
    flow.heading(f"Examinations: {len(audit.examinations) or 'none'}")
    columns = [
        Column("Item", 3), Column("Date", 2.2), Column("Reason", 2.4), Column("Examined by", 3),
        Column("Competence", 4), Column("Result", 4), Column("Findings", 7), Column("Next due", 2.2),
    ]  # fmt: skip
    Grid(flow, columns).fill(map(_examined, audit.examinations))


def _examined(one: Examined) -> Sequence[Cell]:
    return (
        [bold(one.tag)],
        plain(one.on),
        told(one.reason),
        told(one.by),
        plain(one.competence or NOT_ON_RECORD),
        told(one.result),
        told(*findings_of(one)),
        plain(one.next_due or "by the rules"),
    )


def _splices(flow: Flow, audit: Audit) -> None:
    flow.heading(f"Splices: {len(audit.splices) or 'none'}")
    columns = [
        Column("Rope", 3), Column("End", 1.6), Column("Method", 5), Column("Made", 2.2), Column("Made by", 2),
        Column("Checked by", 2), Column("Outcome", 2.5), Column("Now", 2.6), Column("Finished", 3), Column("Tests", 5),
    ]  # fmt: skip
    Grid(flow, columns).fill(map(_spliced, audit.splices))


def _spliced(one: Spliced) -> Sequence[Cell]:
    return (
        [bold(one.tag)],
        plain(one.end),
        plain(one.method),
        plain(one.made_on),
        told(one.made_by),
        told(one.checked_by),
        plain(one.outcome),
        plain(one.stands),
        plain(one.finished or NOT_ON_RECORD),
        plain(*tests_of(one)),
    )
