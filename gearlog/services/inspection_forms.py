"""The forms of an inspection: the findings, and what is said at its end."""

from __future__ import annotations

from datetime import datetime

from gearlog.domain.dates import PartialDate
from gearlog.domain.identity import new_id
from gearlog.domain.inspection import (
    Finding,
    Independence,
    Inspection,
    InspectionKind,
    Severity,
    Verdict,
)
from gearlog.errors import Fault, InvalidRecordError
from gearlog.services.forms import Field, FieldKind, words_of
from gearlog.services.reading_forms import Form, read_form
from gearlog.services.sheet import Sheet

FINDING_FORM: tuple[Field, ...] = (
    Field("severity", "severity", FieldKind.CHOICE, words_of(Severity), required=True, default="watch"),
    Field("words", "what was seen", hint="two cut cover strands", required=True),
    Field("at", "from end A", FieldKind.LENGTH, hint="of a rope: 3.2 m", zero=True),
    Field("until", "as far as", FieldKind.LENGTH, hint="of what reaches along it: 3.6 m", zero=True),
    Field("photos", "photos", FieldKind.LIST, hint="file names"),
)
"""Fields of a finding."""

INSPECTION_FORM: tuple[Field, ...] = (
    Field("inspected_on", "on", FieldKind.DATE, hint="2024-05-31", required=True),
    Field("inspector", "inspector", hint="who inspected", required=True),
    Field("competence", "competent by", hint="inspector's course 2024, certificate 12"),
    Field("independent", "independent of use", FieldKind.CHOICE, words_of(Independence), default="not-said"),
    Field("verdict", "verdict", FieldKind.CHOICE, words_of(Verdict), hint="empty is what the rules say"),
    Field("verdict_reason", "why milder", hint="needed for a milder verdict than the rules'"),
    Field("next_due_on", "next due on", FieldKind.DATE, hint="empty is what the rules say"),
    Field("photos", "photos", FieldKind.LIST, hint="file names"),
    Field("notes", "notes", FieldKind.WORDS),
)  # fmt: skip
"""Fields that are filled once every line is answered."""

KINDS = words_of(InspectionKind)
"""Why an item may be inspected: (value, label) pairs."""


def read_finding(form: Form, line: str = "") -> Finding:
    """The finding that the form tells, under a line of the inspection; raises InvalidRecordError."""
    values, faults = read_form(FINDING_FORM, form)
    at, until = values["at"], values["until"]
    if until is not None and (at is None or until.exact < at.exact):
        faults.append(Fault("until", "comes before where it begins", "type both from end A, such as 3.2 m and 3.6 m"))
    if faults:
        raise InvalidRecordError(tuple(faults))
    return Finding(
        id=new_id(),
        severity=Severity(values["severity"]),
        words=values["words"],
        at=at,
        until=until,
        line=line,
        photos=values["photos"],
    )


def read_inspection(sheet: Sheet, form: Form, now: datetime) -> tuple[Inspection, list[Fault]]:
    """The inspection that sheet and form tell, and every fault of the form; one with faults must not be saved."""
    values, faults = read_form(INSPECTION_FORM, form)
    made = Inspection(
        id=new_id(),
        created_at=now,
        changed_at=now,
        item_id=sheet.item_id,
        kind=sheet.kind,
        inspected_on=values["inspected_on"] or PartialDate.of(now.date()),
        inspector=values["inspector"],
        competence=values["competence"],
        independent=Independence(values["independent"] or Independence.NOT_SAID),
        answers=sheet.given(),
        findings=sheet.findings,
        ruled=sheet.ruled,
        verdict=Verdict(values["verdict"] or sheet.ruled),
        verdict_reason=values["verdict_reason"],
        next_due_on=values["next_due_on"],
        photos=values["photos"],
        notes=values["notes"],
    )
    return made, faults
