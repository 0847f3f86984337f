"""An audit as one HTML file: the same parts in the same words as on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from gearlog.domain.audited import Audit, AuditItem, Examined, Particular, Spliced
from gearlog.domain.vocabulary import Status
from gearlog.reports import pages_html as h
from gearlog.reports.audit_words import (
    CANONICAL,
    MISSING,
    NOT_ON_RECORD,
    SIGNED_BY,
    TITLE,
    attention,
    digest_groups,
    findings_of,
    head_lines,
    next_due,
    shown,
    status_words,
    summary,
    tests_of,
)

EXAMINED = ("Item", "Date", "Reason", "Examined by", "Competence", "Result", "Findings", "Next due")
SPLICED = (
    *("Rope", "End", "Method", "Made", "Made by", "Checked by", "Outcome", "Now", "Finished", "Tests"),
    "Missing",
)
OF_EXAMINED, OF_SPLICED = (3, 2.2, 2.4, 3, 4, 4, 7, 2.2), (3, 1.6, 5, 2.2, 2, 2, 2.5, 2.6, 3, 5, 3)
"""Shares of their columns of the width."""


def html_of(audit: Audit, *, paper: str = "a4", pages: bool = False) -> bytes:
    """The audit as HTML; ``pages`` adds a page for each item."""
    foot = f"{len(audit.items)} items - content digest {digest_groups(audit.digest)}"
    body = [*_head(audit, foot), *_register(audit, foot), *_lists(audit, foot)]
    for item in audit.items if pages else ():
        body += _page(item, foot)
    about = f"{TITLE} as of {audit.on}"
    return h.page(about, body, paper=paper, landscape=True, foot=f"{about} - {foot}")


def _head(audit: Audit, foot: str) -> Iterator[str]:
    yield h.heading(TITLE, 1)
    yield from map(h.paragraph, head_lines(audit))
    numbers = summary(audit)
    yield h.table([what for what, _ in numbers], [[h.cell(h.strong(str(count))) for _, count in numbers]])
    yield h.signatures(SIGNED_BY)
    yield h.paragraph(f"Content digest: {digest_groups(audit.digest)}")
    yield h.paragraph(CANONICAL)
    for title, found in attention(audit):
        yield h.heading(f"{title}: {len(found) or 'none'}")
        if found:
            rows = [_texts(item.tag, item.name, item.category, why) for item, why in found]
            yield h.table(("Item", "Name", "Category", "Why"), rows, shares=(2, 3, 2, 8), foot=foot)
    yield h.heading(f"Missing particulars: {sum(count for _, count in audit.gaps) or 'none'}")
    rows = [_texts(gap, str(count)) for gap, count in audit.gaps]
    yield h.table(("Missing", "Items"), rows, shares=(1, 4), foot=foot)


def _register(audit: Audit, foot: str) -> Iterator[str]:
    yield h.heading("Register")
    headings = (
        *("Item", "Maker, model, serial", "Made, bought, used", "Strength, standards", "Last examination"),
        *("Status, next due", "Who has it, where", "Missing"),
    )
    yield h.table(headings, map(_row, audit.items), shares=(5, 5, 5, 5, 5, 5, 4, 5), foot=foot)


def _row(item: AuditItem) -> Sequence[str]:
    tell = {one.id: one for one in item.particulars}
    rope = [item.text("construction"), item.text("diameter"), item.text("length_now")]
    used = (item.name, f"{item.category}, {item.used_for}", ", ".join(text for text in rope if text))
    state = status_words(item)
    return (
        h.cell(h.strong(item.tag), *map(h.words, used)),
        h.cell(*_led(tell, ("maker", ""), ("model", ""), ("serial", "serial or batch ")),
               h.words(item.text("contact"))),
        h.cell(*_led(tell, ("made_on", "made "), ("bought_on", "bought "), ("first_used_on", "first used "),
                     ("life_limit", "limit of life "), ("life_end", "life ends "))),
        h.cell(*_led(tell, ("breaking_strength", "breaks at "), ("safe_working_load", "SWL "), ("standards", ""))),
        h.cell(*_last(item)),
        h.cell(h.words(state) if item.status is Status.IN_SERVICE else h.strong(state),
               h.strong(item.due_reason) if item.overdue else h.words(item.due_reason)),
        h.cell(*_led(tell, ("assigned_to", ""), ("kept_at", "at "))),
        h.cell(*(map(h.strong, item.gaps) if item.gaps else ["nothing"])),
    )  # fmt: skip


def _led(tell: dict[str, Particular], *wanted: tuple[str, str]) -> Iterator[str]:
    """Particulars with their words; what is asked for and is not there stands out."""
    for name, lead in wanted:
        one = tell[name]
        if one.text:
            yield h.words(lead + one.text)
        elif one.asked:
            yield h.strong(f"{one.label} {MISSING}")


def _last(item: AuditItem) -> Iterator[str]:
    if not item.examinations:
        yield h.strong(f"never examined: {MISSING}")
        return
    one = item.examinations[0]
    yield h.words(", ".join(part for part in (one.on, one.reason) if part))
    if not one.reason:
        yield h.strong(f"reason {MISSING}")
    yield _or_missing(one.result, "result ")
    yield from (_or_missing(text, "findings ") for text in findings_of(one) if text != "none")
    yield h.words(f"by {one.by}") if one.by else h.strong(f"by {MISSING}")


def _lists(audit: Audit, foot: str) -> Iterator[str]:
    yield h.heading(f"Examinations: {len(audit.examinations) or 'none'}")
    yield h.table(EXAMINED, map(_examined, audit.examinations), shares=OF_EXAMINED, foot=foot)
    yield h.heading(f"Splices: {len(audit.splices) or 'none'}")
    yield h.table(SPLICED, map(_spliced, audit.splices), shares=OF_SPLICED, foot=foot)


def _examined(one: Examined) -> Sequence[str]:
    return (
        h.cell(h.strong(one.tag)),
        *_texts(one.on),
        h.cell(_or_missing(one.reason)),
        h.cell(_or_missing(one.by)),
        *_texts(one.competence or NOT_ON_RECORD),
        h.cell(_or_missing(one.result)),
        h.cell(*map(_or_missing, findings_of(one))),
        *_texts(one.next_due or "by the rules"),
    )


def _spliced(one: Spliced) -> Sequence[str]:
    return (
        h.cell(h.strong(one.tag)),
        *_texts(one.end, one.method, one.made_on),
        h.cell(_or_missing(one.made_by)),
        h.cell(_or_missing(one.checked_by)),
        *_texts(one.outcome, one.stands, one.finished or NOT_ON_RECORD),
        h.cell(*map(h.words, tests_of(one))),
        h.cell(*(map(h.words, one.gaps) if one.gaps else ["nothing"])),
    )


def _page(item: AuditItem, foot: str) -> Iterator[str]:
    yield '<section class="page">'
    yield h.heading(f"{item.tag}: {item.name}")
    yield h.paragraph(f"{item.category}, used for {item.used_for}. {status_words(item)}; {item.due_reason}.")
    yield h.table(("Particular", "On record") * 2, _beside(item), shares=(2, 4, 2, 4), foot=foot)
    yield h.paragraph(f"Missing: {'; '.join(item.gaps) or 'nothing'}. Next due: {next_due(item)}.")
    yield h.heading(f"Examinations: {len(item.examinations) or 'never examined'}", 3)
    yield h.table(EXAMINED, map(_examined, item.examinations), shares=OF_EXAMINED, foot=foot)
    if item.splices:
        yield h.heading(f"Splices: {len(item.splices)}", 3)
        yield h.table(SPLICED, map(_spliced, item.splices), shares=OF_SPLICED, foot=foot)
    yield h.heading(f"History: {len(item.history) or 'nothing on record'}", 3)
    history = [
        (*_texts(one.on, one.what, one.by or NOT_ON_RECORD),
         h.cell(h.words(one.words), h.strong(f"STRUCK OUT: {one.struck}") if one.struck else ""))
        for one in item.history
    ]  # fmt: skip
    yield h.table(("Date", "What", "By", "Particulars"), history, shares=(2, 3, 3, 14), foot=foot)
    yield "</section>"


def _beside(item: AuditItem) -> Iterator[list[str]]:
    """Two particulars beside one another, so that a page holds them all."""
    cells = [cell for one in item.particulars for cell in (h.cell(h.words(one.label)), h.cell(_or_missing(shown(one))))]
    cells += [h.cell()] * (len(cells) % 4)
    return (cells[at : at + 4] for at in range(0, len(cells), 4))


def _texts(*texts: str) -> list[str]:
    return [h.cell(h.words(text)) for text in texts]


def _or_missing(text: str, lead: str = "") -> str:
    return h.words(text) if text and text != MISSING else h.strong(lead + MISSING)
