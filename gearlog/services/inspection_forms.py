"""The forms of an inspection: the findings, and what is said at its end."""

from __future__ import annotations

from datetime import datetime
from fractions import Fraction

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
from gearlog.units.exact import exact_metres
from gearlog.units.measure import Length

VERY_END, THROAT = "end", "throat"
"""From where a place along a rope was measured; kept is how far it lies from the very end."""

FINDING_FORM: tuple[Field, ...] = (
    Field("severity", "severity", FieldKind.CHOICE, words_of(Severity), required=True, default="watch"),
    Field("words", "what was seen", hint="two cut cover strands", required=True),
    Field(
        "measured_from",
        "measured from",
        FieldKind.CHOICE,
        ((VERY_END, "the very end of A"), (THROAT, "the throat of the splice at A")),
        default=VERY_END,
    ),
    Field("at", "how far along", FieldKind.LENGTH, hint="of a rope, from end A: 3.2 m", zero=True),
    Field("until", "as far as", FieldKind.LENGTH, hint="of what reaches along it: 3.6 m", zero=True),
    Field("photos", "photos", FieldKind.LIST, hint="files; copied into the log's folder"),
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
    Field("photos", "photos", FieldKind.LIST, hint="files; copied into the log's folder"),
    Field("notes", "notes", FieldKind.WORDS),
)  # fmt: skip
"""Fields that are filled once every line is answered."""

NO_THROAT = Fault(
    "measured_from", "cannot be the throat: no splice with its plan stands at end A", "measure from the very end"
)
KINDS = words_of(InspectionKind)
"""Why an item may be inspected: (value, label) pairs."""


def read_finding(form: Form, line: str = "", throat: Fraction | None = None) -> Finding:
    """The finding that the form tells, under a line of the inspection; raises InvalidRecordError.

    ``throat`` is how much rope lies in the splice at end A (m): what was measured from its throat lies so much further.
    """
    values, faults = read_form(FINDING_FORM, form)
    at, until = values["at"], values["until"]
    if values["measured_from"] == THROAT and at is not None:
        faults += [] if throat is not None else [NO_THROAT]
        at, until = (_further(one, throat or Fraction(0)) for one in (at, until))
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


def _further(measured: Length | None, throat: Fraction) -> Length | None:
    return exact_metres(measured.exact + throat) if measured is not None else None


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
