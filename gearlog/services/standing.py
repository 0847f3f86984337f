"""Where an item stands, decided by people: quarantine, release, retirement, destruction; assignment and loan.

Each is an entry of the item's history, with who decided and why.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.handed import loan_of
from gearlog.domain.identity import new_id
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import open_findings, open_quarantines, status_of
from gearlog.domain.vocabulary import EventKind, Status, label
from gearlog.errors import Fault, InvalidRecordError
from gearlog.services.event_forms import read_event
from gearlog.services.filling_forms import blank
from gearlog.services.forms import Field, FieldKind
from gearlog.services.reading_forms import BLANKS, Form
from gearlog.services.schedule import Schedule
from gearlog.services.shelf import Shelf
from gearlog.units.visible import visible
from gearlog.upkeep.due import due_of

_DAY = Field("happened_on", "on", FieldKind.DATE, hint="2024-05-31", required=True)
STANDING_FORM: tuple[Field, ...] = (
    _DAY,
    Field("by", "by", hint="who decided", required=True),
    Field("notes", "reason", hint="why", required=True),
)
"""Fields of a quarantine, a release, a retirement or a destruction."""

HAND_FORM: tuple[Field, ...] = (
    _DAY,
    Field("to", "to", hint="climber 1", required=True),
    Field("by", "by", hint="who handed it out"),
    Field("notes", "notes", FieldKind.WORDS),
)
"""Fields of an assignment or a loan; those of a return have no ``to``."""

DECISIONS = frozenset({EventKind.QUARANTINED, EventKind.RELEASED, EventKind.RETIRED, EventKind.DESTROYED})
"""What a person decides, with a reason."""
_REASONS = {
    EventKind.QUARANTINED: "say why it is taken out of use, such as: cover looks glazed at 3 m",
    EventKind.RELEASED: "say why it may be used again, such as: examined, nothing found; damaged end cut off",
    EventKind.RETIRED: "say why its use ends, such as: worn through",
    EventKind.DESTROYED: "say how it was made unusable, such as: cut into pieces",
}


class Standing:
    """Decisions on the items of one log, and who has them."""

    def __init__(self, shelf: Shelf, schedule: Schedule) -> None:
        self._shelf = shelf
        self._schedule = schedule

    def blank_form(self, fields: Sequence[Field] = STANDING_FORM) -> dict[str, str]:
        """A new form of a decision or of handing out, dated today, by the user."""
        start = {"happened_on": self._shelf.clock.today().isoformat(), "by": self._shelf.store.settings.user}
        return {name: start.get(name, text) for name, text in blank(fields).items()}

    def decide(self, item_id: str, kind: EventKind, form: Form) -> Event:
        """Quarantine, release, retire or note the destruction of an item, with a reason.

        A release names every finding that keeps the item out of service: the reason says how each was resolved.
        Raises InvalidRecordError with every fault, NotFoundError, ReadOnlyError, StorageError.
        """
        item = self._shelf.item(item_id)
        made = self._read(item, kind, form)
        faults = _reason_faults(kind, form)
        if faults:
            raise InvalidRecordError(tuple(faults))
        return self._saved(item, self.checked(item, made))

    def checked(self, item: Item, event: Event) -> Event:
        """A decision that fits where the item stands, a release with the findings that it resolves.

        Raises InvalidRecordError where it does not fit.
        """
        events = self._shelf.events_of(item.id)
        status = status_of(events)
        if event.kind is EventKind.RELEASED:
            return self._release(item, event, events)
        done = {EventKind.RETIRED: {Status.RETIRED, Status.DESTROYED}, EventKind.DESTROYED: {Status.DESTROYED}}
        if status in done.get(event.kind, set()):
            reason = f"{visible(item.tag)} is {label(status)} already"
            raise InvalidRecordError((Fault("item", reason, "strike that entry out if it is wrong"),))
        return event

    def open_stops(self, item_id: str) -> tuple[str, ...]:
        """What keeps an item in quarantine, in words, a line each; empty when it is not."""
        events = self._shelf.events_of(item_id)
        return tuple(_cause(event) for event in open_quarantines(events))

    def refusal(self, item_id: str) -> str:
        """Why an item cannot be picked for a plan, a kit, a loan or an assignment; empty when it can."""
        item, events = self._shelf.item(item_id), self._shelf.events_of(item_id)
        if status_of(events) is Status.IN_SERVICE:
            return ""
        return f"{visible(item.tag)} is {due_of(item, events, self._shelf.clock.today(), self._schedule.book()).reason}"

    def assign(self, item_id: str, form: Form) -> Event:
        """Give an item to somebody for good; its data and its history tell it in one save. Raises as ``decide``."""
        item = self._shelf.item(item_id)
        self.must_serve(item)
        made = self._read(item, EventKind.ASSIGNED, form)
        _must_name(made)
        changed = replace(item, assigned_to=made.to, changed_at=made.changed_at)
        self._shelf.store.save(changed, made, label=f"assign {item.tag} to {made.to}")
        return made

    def lend(self, item_id: str, form: Form) -> Event:
        """Lend an item; raises as ``decide``."""
        item = self._shelf.item(item_id)
        self.must_serve(item)
        loan = loan_of(self._shelf.events_of(item_id))
        if loan is not None:
            reason = f"{visible(item.tag)} is on loan to {loan.to or 'somebody'} since {loan.happened_on}"
            raise InvalidRecordError((Fault("item", reason, "record its return first"),))
        made = self._read(item, EventKind.LOANED, form)
        _must_name(made)
        return self._saved(item, made)

    def give_back(self, item_id: str, form: Form) -> Event:
        """Record the return of a loan; raises as ``decide``."""
        item = self._shelf.item(item_id)
        if loan_of(self._shelf.events_of(item_id)) is None:
            reason = f"{visible(item.tag)} is not on loan"
            raise InvalidRecordError((Fault("item", reason, "see its history on the card"),))
        return self._saved(item, self._read(item, EventKind.RETURNED, {**form, "to": ""}))

    def must_serve(self, item: Item) -> None:
        """Raise InvalidRecordError, with the reason, for what is out of service."""
        why = self.refusal(item.id)
        if why:
            raise InvalidRecordError((Fault("item", why, "choose another, or have it released first"),))

    def with_findings(self, item: Item, event: Event) -> Event:
        """A release that was entered as any other event; where findings stop the item it must name who and why.

        Raises InvalidRecordError.
        """
        events = self._shelf.events_of(item.id)
        return self._release(item, event, events) if open_findings(events) else event

    def _release(self, item: Item, event: Event, events: Sequence[Event]) -> Event:
        if status_of(events) is not Status.QUARANTINED:
            reason = f"{visible(item.tag)} is {label(status_of(events))}, not in quarantine"
            raise InvalidRecordError((Fault("kind", reason, "a release frees only from quarantine"),))
        findings = open_findings(events)
        if findings and not (event.notes.strip(BLANKS) and event.by.strip(BLANKS)):
            name = "by" if not event.by.strip(BLANKS) else "notes"
            way_out = "say who releases it and how each finding was resolved"
            raise InvalidRecordError((Fault(name, f"is empty, but {len(findings)} findings stop it", way_out),))
        made = replace(event, findings=findings)
        left = open_quarantines((*events, made))
        if left:
            reason = f"{event.happened_on} is before what it is to free from: {_cause(left[0])}"
            raise InvalidRecordError((Fault("happened_on", reason, "type the day of the release"),))
        return made

    def _read(self, item: Item, kind: EventKind, form: Form) -> Event:
        typed = {"kind": kind.value, **{name: text for name, text in form.items() if name in _TAKEN}}
        return read_event(item.id, typed, today=self._shelf.clock.today(), now=self._shelf.moment())

    def _saved(self, item: Item, event: Event) -> Event:
        to = f" to {event.to}" if event.to else ""
        self._shelf.store.save(event, label=f"{item.tag}: {label(event.kind)}{to}")
        return event


_TAKEN = frozenset({"happened_on", "by", "to", "notes"})


def moved_to(item: Item, before: Item, today: PartialDate, now: datetime) -> tuple[Event, ...]:
    """The entry of an assignment that a changed form tells, if it tells one; by whom is not known."""
    if item.assigned_to == before.assigned_to:
        return ()
    made = Event(
        id=new_id(),
        created_at=now,
        changed_at=now,
        item_id=item.id,
        kind=EventKind.ASSIGNED,
        happened_on=today,
        to=item.assigned_to,
    )
    return (made,)


def _reason_faults(kind: EventKind, form: Form) -> list[Fault]:
    faults = [] if form.get("by", "").strip(BLANKS) else [Fault("by", "is empty", "type who decided, such as initials")]
    if not form.get("notes", "").strip(BLANKS):
        faults.append(Fault("notes", "is empty", _REASONS[kind]))
    return faults


def _must_name(event: Event) -> None:
    if not event.to.strip(BLANKS):
        raise InvalidRecordError((Fault("to", "is empty", "type who gets it, such as climber 1"),))


def _cause(event: Event) -> str:
    notes = f": {' '.join(event.notes.split())}" if event.notes else ""
    return f"{label(event.kind)} on {event.happened_on}{notes}"
