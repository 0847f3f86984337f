"""One item as an audit tells it: particulars, examinations, history, state on the day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from msgspec.structs import replace

from gearlog.domain.audited import AuditItem, Examined, Happened, Spliced
from gearlog.domain.event import Event
from gearlog.domain.history import History
from gearlog.domain.inspection import Finding, Inspection
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import end_states, length_now
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, EventKind, Status, label
from gearlog.services.audit import DUE_WORDS, Audited, line_of
from gearlog.services.auditing_particulars import particulars
from gearlog.services.rows import gear_row
from gearlog.services.views import GearRow
from gearlog.upkeep.examinations import last_examination
from gearlog.upkeep.schedule import RuleBook

LEAVING = {
    EventKind.RETIRED: Status.RETIRED,
    EventKind.DESTROYED: Status.DESTROYED,
    EventKind.LOST: Status.LOST,
}
"""What takes an item out of use for good, and where it stands then."""


def audit_item(
    history: History,
    events: tuple[Event, ...],
    on: date,
    rules: RuleBook,
    splices: tuple[Spliced, ...],
    titles: tuple[str, str],
) -> AuditItem:
    """The item of a history that was cut off at the day of the audit.

    Args:
        history: what had happened by then.
        events: the entries that count for it.
        on: the day.
        rules: the rule sets that hold.
        splices: its splices, told already.
        titles: of the methods at end A and end B, or empty.
    """
    item = history.item
    examinations = tuple(examined(history))
    row = gear_row(item, events, on, rules)
    row = replace(row, gaps=(*row.gaps, *_examination_gaps(examinations)))
    audited = _audited(history, row, events, titles, examinations)
    left = _left(events, row.status)
    return AuditItem(
        id=item.id,
        tag=item.tag,
        name=item.name,
        category=row.category,
        used_for=label(item.used_for),
        line=line_of(audited),
        status=row.status,
        due=DUE_WORDS[row.due.state],
        due_on=row.due.due_on,
        due_reason=row.due.reason,
        overdue=row.due.state in {"overdue", "never-examined"},
        particulars=particulars(audited),
        examinations=examinations,
        history=tuple(_told(history)),
        splices=splices,
        gaps=row.gaps,
        left_on=left.happened_on.text if left else "",
        left_how=_of(left) if left else "",
    )


def _audited(
    history: History, row: GearRow, events: Sequence[Event], titles: Sequence[str], examinations: tuple[Examined, ...]
) -> Audited:
    item = history.item
    return Audited(
        row=row,
        examined=last_examination(events, date.max),
        length_now_m=length_now(item, events, history.splices),
        ends=end_states(item, history.splices, events),
        end_titles={end: title for end, title in zip((End.A, End.B), titles, strict=True) if title},
        parent_tag=history.origin.parent.item.tag if history.origin else "",
        examinations=examinations,
    )


def examined(history: History) -> Iterator[Examined]:
    """Every standing examination and check, the newest first."""
    item = history.item
    inspections = (one for one in history.inspections if not one.struck_because)
    found = [(one.inspected_on.latest(), one.created_at, _inspected(item, one)) for one in inspections]
    entries = (one for one in history.events if one.kind is EventKind.EXAMINED and not one.struck_because)
    found += [(one.happened_on.latest(), one.created_at, _entered(item, one)) for one in entries]
    found.sort(key=lambda one: one[:2], reverse=True)
    return (one for _, _, one in found)


def _inspected(item: Item, inspection: Inspection) -> Examined:
    return Examined(
        tag=item.tag,
        name=item.name,
        on=inspection.inspected_on.text,
        reason=label(inspection.kind),
        by=inspection.inspector,
        competence=inspection.competence,
        result=label(inspection.verdict),
        findings=tuple(map(finding_words, inspection.findings)),
        told=True,
        next_due=inspection.next_due_on.text if inspection.next_due_on else "",
        remarks="; ".join(part for part in (inspection.verdict_reason, inspection.notes) if part),
    )


def _entered(item: Item, event: Event) -> Examined:
    """An examination that was entered as a line of the history: it names no verdict and has no list of findings."""
    return Examined(
        tag=item.tag,
        name=item.name,
        on=event.happened_on.text,
        reason="",
        by=event.by,
        competence="",
        result="",
        findings=(),
        told=False,
        next_due=event.next_due_on.text if event.next_due_on else "",
        remarks=event.notes,
    )


def finding_words(finding: Finding) -> str:
    """A finding in a line: its gravity, what was seen and where."""
    where = ""
    if finding.at is not None:
        where = f" at {finding.at}" if finding.until is None else f" from {finding.at} to {finding.until}"
    return f"{finding.severity}: {finding.words}{where}"


def _examination_gaps(examinations: Sequence[Examined]) -> Iterator[str]:
    """What the newest examination does not tell; older ones are history."""
    for newest in examinations[:1]:
        if not newest.by:
            yield "last examination: no name"
        untold = (("reason", newest.reason), ("result", newest.result), ("findings", newest.told or newest.remarks))
        missing = [what for what, told in untold if not told]
        if missing:
            yield f"last examination: no {', '.join(missing)}"


def _told(history: History) -> Iterator[Happened]:
    """Everything that happened, the newest first; what was struck out is told with its reason."""
    found = [(event.happened_on.latest(), event.created_at, _event(event)) for event in history.events]
    found += [(one.inspected_on.latest(), one.created_at, _inspection(one)) for one in history.inspections]
    found += [(one.made_on.latest(), one.created_at, _splice(one)) for one in history.splices]
    found.sort(key=lambda one: one[:2], reverse=True)
    return (line for _, _, line in found)


def _splice(one: Splice) -> Happened:
    why = f", corrected: {one.correction_reason}" if one.corrects else ""
    return Happened(one.made_on.text, "spliced", one.made_by, f"end {one.end}, {label(one.outcome)}{why}", "")


def _event(event: Event) -> Happened:
    parts = [
        f"end {event.cut_end}" if event.cut_end else "",
        event.length.text if event.length else "",
        f"to {event.to}" if event.to else "",
        f"next due {event.next_due_on}" if event.next_due_on else "",
        event.notes,
    ]
    words = ", ".join(part for part in parts if part)
    return Happened(event.happened_on.text, label(event.kind), event.by, words, event.struck_because)


def _inspection(one: Inspection) -> Happened:
    parts = [label(one.verdict), one.verdict_reason, *map(finding_words, one.findings), one.notes]
    words = "; ".join(part for part in parts if part)
    return Happened(one.inspected_on.text, f"{label(one.kind)} inspection", one.inspector, words, one.struck_because)


def _left(events: Sequence[Event], status: Status) -> Event | None:
    """The entry by which it went out of use, the first of its kind that stands."""
    standing = [event for event in events if LEAVING.get(event.kind) is status and not event.struck_because]
    return min(standing, key=lambda event: event.happened_on.earliest(), default=None)


def _of(event: Event) -> str:
    return ", ".join(part for part in (label(event.kind), f"by {event.by}" if event.by else "", event.notes) if part)
