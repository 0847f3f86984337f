"""The inspection: what was looked at, what was found, what follows from it, and who says so."""

from __future__ import annotations

from enum import StrEnum

import msgspec

from gearlog.domain.dates import PartialDate
from gearlog.domain.record import Record
from gearlog.units.measure import Length


class InspectionKind(StrEnum):
    """Why it was inspected."""

    BEFORE_USE = "before-use"
    INTERIM = "interim"
    THOROUGH = "thorough"
    AFTER_EVENT = "after-event"


EXAMINATIONS = frozenset({InspectionKind.THOROUGH, InspectionKind.AFTER_EVENT})
"""Kinds that count as a thorough examination: made by a competent person, every line answered."""


class Mark(StrEnum):
    """The answer to one criterion."""

    PASS = "pass"  # noqa: S105 (an answer, no password)
    WATCH = "watch"
    FAIL = "fail"
    NOT_APPLICABLE = "not-applicable"


class Severity(StrEnum):
    """How grave a finding is; ``stop`` keeps the item out of service until the finding is resolved."""

    NOTE = "note"
    WATCH = "watch"
    STOP = "stop"


class Verdict(StrEnum):
    """What follows for the item, from the most lenient to the strictest."""

    FIT = "fit"
    WATCH = "watch"
    OUT_OF_SERVICE = "out-of-service"
    RETIRE = "retire"


STRICTNESS = {verdict: place for place, verdict in enumerate(Verdict)}
"""The order of the verdicts: the greater, the stricter."""


class Independence(StrEnum):
    """Whether the inspector stands apart from using and maintaining the item."""

    YES = "yes"
    NO = "no"
    NOT_SAID = "not-said"


class Answer(msgspec.Struct, frozen=True, kw_only=True):
    """One line of an inspection and its answer.

    Attributes:
        line: id of the criterion, with the rope's end after ``@`` where it was asked of one end.
        asked: what was looked for, as it was worded then.
        mark: the answer.
        words: remarks.
    """

    line: str
    asked: str
    mark: Mark
    words: str = ""


class Finding(msgspec.Struct, frozen=True, kw_only=True):
    """One thing seen.

    Attributes:
        id: stable; a release names it when it is resolved.
        severity: note, watch or stop.
        words: what was seen.
        at: of a rope, distance from end A as the rope was then; None when it has no place.
        until: where it ends, of what reaches along the rope.
        line: the criterion's line under which it was found, or empty.
        photos: file references.
    """

    id: str
    severity: Severity
    words: str
    at: Length | None = None
    until: Length | None = None
    line: str = ""
    photos: tuple[str, ...] = ()


class Inspection(Record, frozen=True, kw_only=True):
    """One inspection of one item; never changed, only struck out with a reason.

    Attributes:
        item_id: the item.
        kind: why it was inspected.
        inspected_on: when.
        inspector: who inspected.
        competence: why they are competent.
        independent: whether they stand apart from use and maintenance.
        answers: every line that was asked, in the order in which it was asked.
        findings: what was seen.
        ruled: the verdict that the rules gave.
        verdict: the verdict of the inspector.
        verdict_reason: why it is more lenient than the rules'; needed then.
        next_due_on: latest date of the next, when the inspector set one.
        photos: file references.
        struck_because: why the record was struck out; empty while it stands.
    """

    item_id: str
    kind: InspectionKind
    inspected_on: PartialDate
    inspector: str
    competence: str = ""
    independent: Independence = Independence.NOT_SAID
    answers: tuple[Answer, ...] = ()
    findings: tuple[Finding, ...] = ()
    ruled: Verdict
    verdict: Verdict
    verdict_reason: str = ""
    next_due_on: PartialDate | None = None
    photos: tuple[str, ...] = ()
    struck_because: str = ""

    @property
    def stops(self) -> tuple[Finding, ...]:
        """The findings that keep the item out of service until they are resolved."""
        if not self.findings:  # most have none, and a list asks them all
            return ()
        return tuple(finding for finding in self.findings if finding.severity is Severity.STOP)
