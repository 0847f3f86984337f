"""The lines of an inspection as rows, and one of them in words: how to look, what counts, what was answered."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from textual.content import Content

from gearlog.domain.inspection import Finding, Mark, Severity
from gearlog.reports.words import plural
from gearlog.services.gear_views import FindingRow
from gearlog.services.sheet import Given, Sheet
from gearlog.tui.widgets.columns import Column
from gearlog.tui.widgets.prose import joined, prose, table
from gearlog.units.along import place
from gearlog.upkeep.asking import Line

MARKS = {Mark.PASS: "pass", Mark.WATCH: "WATCH", Mark.FAIL: "FAIL", Mark.NOT_APPLICABLE: "n/a"}
"""Answers as they stand in the list; what matters is loud without colour."""
UNSEEN, OPEN = "", "seen"
STYLES = {Mark.FAIL: "bad", Mark.WATCH: "warn", Mark.NOT_APPLICABLE: "quiet"}
SEVERITIES = {Severity.STOP: "STOP", Severity.WATCH: "WATCH", Severity.NOTE: "note"}
LABEL = 6  # cells for 'watch' before its words


@dataclass(frozen=True, slots=True)
class Asked:
    """One line with its answer and how many findings stand under it."""

    line: Line
    number: int
    given: Given | None
    seen: bool
    found: int


def asked_of(sheet: Sheet) -> tuple[Asked, ...]:
    """The sheet's lines in order."""
    return tuple(
        Asked(
            line,
            number,
            sheet.answers.get(line.key),
            line.key in sheet.seen,
            sum(finding.line == line.key for finding in sheet.findings),
        )
        for number, line in enumerate(sheet.lines, 1)
    )


def asked_columns() -> Sequence[Column[Asked]]:
    """Answer, number, what to look for, findings."""
    return (
        Column("answer", "answer", _answer, 6, style=_style),
        Column("number", "no.", lambda asked: str(asked.number), 3, right=True, style=lambda _: "quiet"),
        Column("look", "look for", lambda asked: asked.line.look, 20, share=1),
        Column("found", "found", lambda asked: str(asked.found or ""), 5, right=True),
    )


def _answer(asked: Asked) -> str:
    if asked.given is not None:
        return MARKS[asked.given.mark]
    return OPEN if asked.seen else UNSEEN


def _style(asked: Asked) -> str:
    return STYLES.get(asked.given.mark, "") if asked.given is not None else "quiet"


def line_words(sheet: Sheet, asked: Asked, earlier: Sequence[FindingRow], width: int) -> Content:
    """One line in words: what was found under it now and ``earlier``, how to look, what counts."""
    return joined(_lines(sheet, asked, earlier, width))


def _lines(sheet: Sheet, asked: Asked, earlier: Sequence[FindingRow], width: int) -> Iterator[Content]:
    line = asked.line
    yield from prose(f"{asked.number} of {len(sheet.lines)}  {line.group}", width, "$accent")
    yield from prose(line.look, width, "bold")
    for finding in sheet.findings:
        if finding.line == line.key:
            yield from prose(f"found: {finding_words(finding)}", width, "bold")
    for row in earlier:
        if row.finding.line == line.key and not row.gone:
            yield from prose(f"{row.inspection.inspected_on}: {_earlier(row)}", width, "$warn")
    rows = [("how", line.how), ("watch", line.watch), ("fail", line.fail)]
    yield from table([row for row in rows if row[1]], (LABEL,), width)
    yield from prose("; ".join(line.sources), width, "$quiet")


def _earlier(row: FindingRow) -> str:
    """A finding of an earlier inspection, where it lies now."""
    where = f" at {place(row.from_m, imperial=False)} from A" if row.from_m is not None else ""
    return f"{SEVERITIES[row.finding.severity]}{where}: {row.finding.words}"


def finding_words(finding: Finding) -> str:
    """A finding in one line: how grave, where, what."""
    where = ""
    if finding.at is not None:
        until = f" to {finding.until.text}" if finding.until is not None else ""
        where = f" at {finding.at.text}{until} from A"
    photos = f" ({plural(len(finding.photos), 'photo')})" if finding.photos else ""
    return f"{SEVERITIES[finding.severity]}{where}: {finding.words}{photos}"
