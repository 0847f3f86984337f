"""Inspecting: what to look at on an item, the sheet that is filled, and the record that comes of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from fractions import Fraction

from msgspec.structs import replace

from gearlog.domain.finishes import is_finish
from gearlog.domain.inspection import EXAMINATIONS, Finding, Inspection, InspectionKind, Mark
from gearlog.domain.inspection_rules import inspection_faults
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import end_states, length_now, status_of
from gearlog.domain.places import SpliceAt, splices_between
from gearlog.domain.vocabulary import End, Status, label
from gearlog.errors import Fault, InvalidRecordError, NotFoundError
from gearlog.services import photos
from gearlog.services.filling_forms import blank
from gearlog.services.inspection_forms import INSPECTION_FORM, read_finding, read_inspection
from gearlog.services.pieces import SAME_LENGTH, metres
from gearlog.services.reading_forms import BLANKS, Form
from gearlog.services.schedule import Schedule
from gearlog.services.sheet import Sheet, restored
from gearlog.services.shelf import Shelf
from gearlog.upkeep.asking import Between, lines_for
from gearlog.upkeep.schedule import Dated, dates_after

FINEST = 10**9  # nanometres; a plan's sum of decimals is told without the noise of its last bits
GONE = frozenset({Status.DESTROYED, Status.LOST})
"""What is not there cannot be inspected."""


class Inspecting:
    """Inspections of the items of one log."""

    def __init__(self, shelf: Shelf, schedule: Schedule) -> None:
        self._shelf = shelf
        self._schedule = schedule

    def sheet(self, item_id: str, kind: InspectionKind, draft: Mapping[str, str] | None = None) -> Sheet:
        """A sheet for an item, filled as far as ``draft`` was; raises NotFoundError, InvalidRecordError."""
        item = self._shelf.item(item_id)
        status = status_of(self._shelf.events_of(item_id))
        if status in GONE:
            way_out = (
                "record first that it was found" if status is Status.LOST else "strike out that entry if it is wrong"
            )
            raise InvalidRecordError((Fault("item", f"{item.tag} is {label(status)}", way_out),))
        ends = end_states(item, self._shelf.versions_of(item_id), self._shelf.events_of(item_id))
        return restored(Sheet(item_id, kind, lines_for(item, ends, self._between(item_id))), draft or {})

    def form_for(self, item_id: str, kind: InspectionKind) -> dict[str, str]:
        """The form of an inspection's end: today, the user, and their competence as they last gave it."""
        today, user = self._shelf.clock.today(), self._shelf.store.settings.user
        start = blank(INSPECTION_FORM) | {"inspected_on": today.isoformat(), "inspector": user}
        said = next((one for one in reversed(self._all()) if user and one.inspector == user and one.competence), None)
        if said is not None:
            start |= {"competence": said.competence, "independent": said.independent.value}
        return start | {"next_due_on": self._latest(item_id, today) if kind in EXAMINATIONS else ""}

    def finding(self, sheet: Sheet, form: Form, line: str = "") -> Finding:
        """The finding that a form tells, checked against the rope's length, its photos copied into the log's folder.

        Raises InvalidRecordError.
        """
        found = read_finding(form, line, self.throat(sheet.item_id))
        names, faults = photos.kept(found.photos, (), self._shelf.store.folder)
        faults += self._place_faults(self._shelf.item(sheet.item_id), found)
        if faults:
            raise InvalidRecordError(tuple(faults))
        return replace(found, photos=names)

    def throat(self, item_id: str) -> Fraction | None:
        """How much rope lies in the splice at end A, up to its throat (m); None where that is not known."""
        view = end_states(self._shelf.item(item_id), self._shelf.versions_of(item_id), self._shelf.events_of(item_id))
        at_a = view.get(End.A)
        plan = at_a.splice.plan if at_a is not None and at_a.splice is not None else None
        used = plan.rope_used_m if plan is not None else None
        return Fraction(used).limit_denominator(FINEST) if used is not None else None

    def next_dates(self, item_id: str, on: date) -> tuple[Dated, ...]:
        """What the rules set when the item is examined on ``on``, the earliest first."""
        return dates_after(self._shelf.item(item_id), on, self._schedule.book())

    def record(self, sheet: Sheet, form: Form) -> Inspection:
        """Save the inspection; where it stops or retires the item, that follows from it.

        Raises InvalidRecordError with every fault, NotFoundError, ReadOnlyError, StorageError.
        """
        item = self._shelf.item(sheet.item_id)
        made, faults = read_inspection(sheet, form, self._shelf.moment())
        faults += [*_open_lines(sheet), *_against_findings(made)]
        told = {fault.field for fault in faults}
        faults += [fault for fault in inspection_faults(made) if fault.field not in told]
        faults += self._late_faults(item, made) if "next_due_on" not in {fault.field for fault in faults} else []
        names, more = photos.kept(made.photos, (), self._shelf.store.folder)
        faults += more
        if faults:
            raise InvalidRecordError(tuple(faults))
        made = replace(made, photos=names)
        self._shelf.store.save(made, label=f"{item.tag}: {label(made.kind)} inspection, {label(made.verdict)}")
        return made

    def inspection(self, inspection_id: str) -> Inspection:
        """The inspection with this id; raises NotFoundError."""
        found = self._shelf.store.get(Inspection, inspection_id)
        if found is None:
            raise NotFoundError("this inspection is not in the log any more; go back to the item")
        return found

    def of(self, item_id: str) -> tuple[Inspection, ...]:
        """The inspections of an item, the newest first, struck ones included."""
        found = self._shelf.inspections_of(item_id)
        return tuple(sorted(found, key=lambda one: (one.inspected_on.latest(), one.created_at), reverse=True))

    def strike(self, inspection_id: str, reason: str) -> Inspection:
        """Strike out an inspection; it stays with its reason. Raises InvalidRecordError and as ``record``."""
        found = self.inspection(inspection_id)
        why = reason.strip(BLANKS)
        if not why:
            way_out = "say why the inspection is struck out, such as: entered for the wrong rope"
            raise InvalidRecordError((Fault("struck_because", "is empty", way_out),))
        struck = replace(found, struck_because=why, changed_at=self._shelf.clock.now())
        self._shelf.store.save(struck, label=f"strike out the inspection of {found.inspected_on}")
        return struck

    def _between(self, item_id: str) -> tuple[Between, ...]:
        """The splices between the ends that are on the rope, from end A on, those of unknown place last."""
        there = (one for one in splices_between(self._shelf.history_of(item_id)) if one.where.gone is None)
        found = [one for one in there if not is_finish(one.splice)]
        told = sorted(found, key=lambda one: (one.where.start is None, one.where.start or 0))
        return tuple(Between(one.splice.id, _splice_words(one, told)) for one in told)

    def _all(self) -> tuple[Inspection, ...]:
        return self._shelf.store.records(Inspection)

    def _latest(self, item_id: str, on: date) -> str:
        dates = [dated.on for dated in self.next_dates(item_id, on) if dated.on is not None]
        return min(dates).isoformat() if dates else ""

    def _late_faults(self, item: Item, made: Inspection) -> list[Fault]:
        """An inspector's date may be earlier than what the rules ask, never later."""
        if made.next_due_on is None:
            return []
        dates = dates_after(item, made.inspected_on.earliest(), self._schedule.book())
        first = next((dated for dated in dates if dated.on is not None), None)
        if first is None or first.on is None or made.next_due_on.earliest() <= first.on:
            return []
        way_out = f"type {first.on} or earlier, or leave it empty"
        return [Fault("next_due_on", f"{made.next_due_on} is later than the rules allow: {first.rule}", way_out)]

    def _place_faults(self, item: Item, found: Finding) -> tuple[Fault, ...]:
        if found.at is None:
            return ()
        if item.rope is None:
            return (Fault("at", "is given, but the item is no rope", "leave it empty, and say the place in words"),)
        left = length_now(item, self._shelf.events_of(item.id), self._shelf.versions_of(item.id))
        end = found.until or found.at
        if left is None or end.si <= left + SAME_LENGTH:
            return ()
        way_out = "measure again from end A"
        return (Fault("until" if found.until else "at", f"{end} is beyond the rope's {metres(left)}", way_out),)


def _splice_words(found: SpliceAt, others: Sequence[SpliceAt]) -> str:
    """Where it lies; with its date where that alone does not tell it from the others."""
    start, made = found.where.start, f"splice of {found.splice.made_on}"
    if start is None:
        return f"{made}, it is not known where"
    alone = sum(one.where.start == start for one in others) == 1
    return f"at {metres(float(start))}" if alone else f"{made} at {metres(float(start))}"


def _against_findings(made: Inspection) -> Iterator[Fault]:
    """A line does not pass while a finding under it takes the item out of service."""
    stopped = {finding.line for finding in made.stops}
    for answer in made.answers:
        if answer.line in stopped and answer.mark is not Mark.FAIL:
            reason = f"say {answer.mark} to '{answer.asked}', under which a finding stops"
            yield Fault("answers", reason, "let the line fail, or lower the finding's severity")


def _open_lines(sheet: Sheet) -> list[Fault]:
    if not sheet.unanswered:
        return []
    first = sheet.unanswered[0]
    reason = f"{len(sheet.unanswered)} of {len(sheet.lines)} have no answer, first: {first.look}"
    return [Fault("lines", reason, "answer each, or let the rest pass once each was seen")]
