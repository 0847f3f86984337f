"""What the record of an inspection must keep before it is saved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta

from gearlog.domain.inspection import EXAMINATIONS, STRICTNESS, Answer, Finding, Inspection, Mark, Verdict
from gearlog.domain.text_rules import is_blank, text_faults
from gearlog.domain.validate import A_DATE, LONGEST_INTERVAL, ONE_DAY
from gearlog.errors import Fault

HALF_A_YEAR = timedelta(days=182)
"""For the example of a next date."""


def verdict_by_rules(answers: Sequence[Answer], findings: Sequence[Finding]) -> Verdict:
    """What the answers and findings ask for: any fail or stop ends the use, any watch is watched."""
    words = {str(answer.mark) for answer in answers} | {str(finding.severity) for finding in findings}
    if words & {"fail", "stop"}:
        return Verdict.OUT_OF_SERVICE
    return Verdict.WATCH if "watch" in words else Verdict.FIT


def inspection_faults(inspection: Inspection) -> tuple[Fault, ...]:
    """What is wrong with the record of an inspection."""
    return tuple(_faults(inspection))


def _faults(inspection: Inspection) -> Iterator[Fault]:
    yield from text_faults(inspection)
    yield from _who_faults(inspection)
    yield from _date_faults(inspection)
    yield from _answer_faults(inspection)
    for number, finding in enumerate(inspection.findings, 1):
        yield from _finding_faults(finding, number)
    yield from _verdict_faults(inspection)


def _who_faults(inspection: Inspection) -> Iterator[Fault]:
    if is_blank(inspection.inspector):
        yield Fault("inspector", "is empty", "type who inspected, such as inspector 1")
    if inspection.kind in EXAMINATIONS and is_blank(inspection.competence):
        way_out = "say why the inspector is competent, such as: inspector's course 2024, certificate 12"
        yield Fault("competence", "is empty", way_out)


def _date_faults(inspection: Inspection) -> Iterator[Fault]:
    on, due = inspection.inspected_on, inspection.next_due_on
    if on.earliest() > inspection.changed_at.date() + ONE_DAY:
        yield Fault("inspected_on", f"{on} has not come yet", A_DATE)
    if due is None:
        return
    example = f"type the latest date of the next, such as {(on.earliest() + HALF_A_YEAR).isoformat()}"
    if inspection.kind not in EXAMINATIONS:
        yield Fault("next_due_on", "belongs to a thorough examination", "leave it empty, or choose that kind")
    elif due.latest() <= on.earliest():
        yield Fault("next_due_on", f"{due} is not after the inspection", example)
    elif due.earliest() > on.latest() + LONGEST_INTERVAL:
        yield Fault("next_due_on", f"{due} is more than five years on", example)


def _answer_faults(inspection: Inspection) -> Iterator[Fault]:
    if not inspection.answers:
        yield Fault("answers", "are missing", "answer each line of the inspection")
    lines = [answer.line for answer in inspection.answers]
    if len(lines) != len(set(lines)):
        yield Fault("answers", "hold one line twice", "answer each line once")
    for answer in inspection.answers:
        yield from text_faults(answer)
        if answer.mark is Mark.FAIL and is_blank(answer.words) and not _told(inspection, answer):
            way_out = "say what was seen, in a word or as a finding"
            yield Fault("answers", f"fail '{answer.asked}' without a word", way_out)


def _told(inspection: Inspection, answer: Answer) -> bool:
    return any(finding.line == answer.line for finding in inspection.findings)


def _finding_faults(finding: Finding, number: int) -> Iterator[Fault]:
    yield from text_faults(finding)
    if is_blank(finding.words):
        yield Fault("findings", f"say nothing in number {number}", "say what was seen, such as: two cut cover strands")
    if finding.until is not None and (finding.at is None or finding.until.exact < finding.at.exact):
        way_out = "type where it begins and, after that, where it ends, such as 3.2 m and 3.6 m"
        yield Fault("findings", f"end before they begin in number {number}", way_out)


def _verdict_faults(inspection: Inspection) -> Iterator[Fault]:
    least = verdict_by_rules(inspection.answers, inspection.findings)
    if STRICTNESS[inspection.verdict] >= STRICTNESS[least]:
        return
    if inspection.stops:
        way_out = "keep it out of service and release it once the finding is resolved, or lower the finding's severity"
        yield Fault("verdict", f"{inspection.verdict} does not go with a finding that stops", way_out)
    elif is_blank(inspection.verdict_reason):
        way_out = f"write why, or take the rules' verdict: {least}"
        yield Fault("verdict_reason", "is empty, but the verdict is more lenient than the rules'", way_out)
