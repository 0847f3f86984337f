"""The one list of entries that rules of status and of upkeep read.

An inspection enters it as the examination and the quarantine or retirement that follow from it, and a piece takes over
what was still open on its parent on the day of the cut. What the parent's examinations said does not stand in for one
of the piece: that is on the safe side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from gearlog.domain.event import Event
from gearlog.domain.history import History, Origin
from gearlog.domain.inspection import EXAMINATIONS, Inspection, Verdict
from gearlog.domain.lifecycle import CLEARING, FINAL, open_quarantines, still_open
from gearlog.domain.order import Moment
from gearlog.domain.places import findings_of
from gearlog.domain.vocabulary import EventKind, label

DERIVED = ":"
"""Stands in the id of an entry that was made from an inspection, between the inspection's id and the kind."""


def counted(history: History) -> tuple[Event, ...]:
    """Every entry that counts for where the item stands and when it is due, in the order of saving."""
    if not history.inspections and history.origin is None:
        return history.events
    found = [*burdens(history), *history.events]
    found += [event for inspection in history.inspections for event in from_inspection(inspection)]
    return tuple(sorted(found, key=lambda event: event.created_at))


def from_inspection(inspection: Inspection) -> Iterator[Event]:
    """What an inspection says as entries of the history."""
    words = summary(inspection)
    yield _derived(inspection, EventKind.EXAMINED if inspection.kind in EXAMINATIONS else EventKind.CHECKED, words)
    if inspection.verdict is Verdict.RETIRE:
        yield _derived(inspection, EventKind.RETIRED, words)
    stops = inspection.stops
    if inspection.verdict is Verdict.OUT_OF_SERVICE or stops:
        quarantine = _derived(inspection, EventKind.QUARANTINED, words)
        yield replace(quarantine, findings=tuple(finding.id for finding in stops))


def _derived(inspection: Inspection, kind: EventKind, words: str) -> Event:
    return Event(
        id=f"{inspection.id}{DERIVED}{kind.value}",
        created_at=inspection.created_at,
        changed_at=inspection.changed_at,
        item_id=inspection.item_id,
        kind=kind,
        happened_on=inspection.inspected_on,
        by=inspection.inspector,
        next_due_on=inspection.next_due_on if kind is EventKind.EXAMINED else None,
        struck_because=inspection.struck_because,
        notes=words,
    )


def summary(inspection: Inspection) -> str:
    """An inspection in one line: kind, verdict, findings."""
    said = f"{label(inspection.kind)} inspection: {label(inspection.verdict)}"
    if not inspection.findings:
        return said
    seen = "; ".join(finding.words for finding in inspection.findings)
    return f"{said} ({seen})" if seen else said


def burdens(history: History) -> Iterator[Event]:
    """What was open on the parent when the piece was cut from it: it is open on the piece too."""
    if history.origin is None:
        return
    past = before_cut(history.origin)
    yield from (event for event in past if event.kind in FINAL and not event.struck_because)
    for event in open_quarantines(past):
        yield replace(event, findings=_inside(event.findings, history)) if event.findings else event
    yield from still_open(past, frozenset({EventKind.DROPPED}), CLEARING)


def before_cut(origin: Origin) -> tuple[Event, ...]:
    """The parent's entries up to the cut, in the order of saving; of what is unsure, it was before."""
    return tuple(
        event
        for place, event in enumerate(counted(origin.parent))
        if not Moment(event.happened_on, event.created_at, place).is_after(origin.cut_at)
    )


def _inside(findings: Sequence[str], history: History) -> tuple[str, ...]:
    """Those of the findings that lie, or may lie, in the piece."""
    here = {found.finding.id for found in findings_of(history)}
    return tuple(finding for finding in findings if finding in here)
