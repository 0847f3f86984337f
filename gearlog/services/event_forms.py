"""The event's form: from typed text to an entry of an item's history."""

from __future__ import annotations

from datetime import date, datetime

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.identity import new_id
from gearlog.domain.validate import event_faults
from gearlog.domain.vocabulary import EventKind
from gearlog.errors import InvalidRecordError
from gearlog.services.forms import EVENT_FORM
from gearlog.services.reading_forms import Form, read_form


def read_event(item_id: str, form: Form, *, today: date, now: datetime) -> Event:
    """The event that the form tells; raises InvalidRecordError with every fault."""
    values, faults = read_form(EVENT_FORM, form)
    event = Event(
        id=new_id(),
        created_at=now,
        changed_at=now,
        item_id=item_id,
        kind=EventKind(values["kind"] or EventKind.OTHER),
        happened_on=values["happened_on"] or PartialDate.of(today),
        by=values["by"],
        next_due_on=values["next_due_on"],
        length=values["length"],
        cut_end=values["cut_end"],
        to=values["to"],
        notes=values["notes"],
    )
    told = {fault.field for fault in faults}
    faults += [fault for fault in event_faults(event) if fault.field not in told]
    if faults:
        raise InvalidRecordError(tuple(faults))
    return event
