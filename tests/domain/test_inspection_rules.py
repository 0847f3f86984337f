from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest

from gearlog.domain.dates import PartialDate
from gearlog.domain.inspection import Answer, Finding, Inspection, InspectionKind, Mark, Severity, Verdict
from gearlog.domain.inspection_rules import inspection_faults, verdict_by_rules
from gearlog.units.measure import Length

SAVED = datetime(2025, 6, 1, tzinfo=UTC)


def answers(*marks: str) -> tuple[Answer, ...]:
    return tuple(Answer(line=f"line-{n}", asked="cuts", mark=Mark(mark), words="seen") for n, mark in enumerate(marks))


def findings(*grave: str) -> tuple[Finding, ...]:
    return tuple(Finding(id=str(n), severity=Severity(one), words="seen") for n, one in enumerate(grave))


def inspection(**more: Any) -> Inspection:
    usual: dict[str, Any] = {
        "answers": answers("pass"), "inspector": "AB", "competence": "course", "kind": InspectionKind.THOROUGH,
        "inspected_on": PartialDate.read("2025-05-31"), "ruled": Verdict.FIT, "verdict": Verdict.FIT,
    }  # fmt: skip
    return Inspection(id="i", created_at=SAVED, changed_at=SAVED, item_id="a", **usual | more)


@pytest.mark.parametrize(
    ("marks", "grave", "verdict"),
    [
        (["pass", "pass"], [], "fit"),
        (["pass", "not-applicable"], ["note"], "fit"),
        (["pass", "watch"], [], "watch"),
        (["pass"], ["watch", "note"], "watch"),
        (["watch", "fail"], [], "out-of-service"),
        (["pass"], ["note", "stop"], "out-of-service"),
    ],
)
def test_the_verdict_follows_from_the_gravest_answer_or_finding(
    marks: list[str], grave: list[str], verdict: str
) -> None:
    assert verdict_by_rules(answers(*marks), findings(*grave)) == verdict


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({}, None),
        ({"verdict": Verdict.RETIRE}, None),  # stricter freely
        ({"answers": answers("fail"), "verdict": Verdict.WATCH}, "verdict_reason"),
        ({"answers": answers("fail"), "verdict": Verdict.WATCH, "verdict_reason": " "}, "verdict_reason"),
        ({"answers": answers("fail"), "verdict": Verdict.WATCH, "verdict_reason": "only the sleeve"}, None),
        ({"findings": findings("stop"), "verdict": Verdict.WATCH, "verdict_reason": "it is fine"}, "verdict"),
        ({"findings": findings("stop"), "verdict": Verdict.OUT_OF_SERVICE}, None),
        ({"inspector": " "}, "inspector"),
        ({"competence": ""}, "competence"),
        ({"competence": "", "kind": InspectionKind.BEFORE_USE}, None),
        ({"answers": ()}, "answers"),
        ({"inspected_on": PartialDate.read("2025-06-03")}, "inspected_on"),
        ({"next_due_on": PartialDate.read("2025-05-31")}, "next_due_on"),
        ({"next_due_on": PartialDate.read("2031")}, "next_due_on"),
        ({"next_due_on": PartialDate.read("2025-11"), "kind": InspectionKind.INTERIM}, "next_due_on"),
        ({"next_due_on": PartialDate.read("2025-11")}, None),
    ],
)
def test_an_inspection_keeps_its_rules(change: dict[str, Any], field: str | None) -> None:
    found = {fault.field for fault in inspection_faults(inspection(**change))}
    assert found == ({field} if field else set())


def test_a_failed_line_is_told_in_a_word_or_in_a_finding() -> None:
    silent = (Answer(line="cover-cuts", asked="cuts", mark=Mark.FAIL),)
    out = {"verdict": Verdict.OUT_OF_SERVICE, "answers": silent}
    assert {fault.field for fault in inspection_faults(inspection(**out))} == {"answers"}
    told = Finding(id="f", severity=Severity.NOTE, words="two strands", line="cover-cuts")
    assert inspection_faults(inspection(**out, findings=(told,))) == ()


def test_a_stretch_ends_behind_its_beginning() -> None:
    for at, until, good in (("3 m", "3.5 m", True), ("3 m", "3 m", True), ("3 m", "2 m", False), (None, "2 m", False)):
        found = Finding(
            id="f", severity=Severity.NOTE, words="worn", at=Length.read(at) if at else None, until=Length.read(until)
        )
        assert (inspection_faults(inspection(findings=(found,))) == ()) is good
