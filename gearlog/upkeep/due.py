"""When an item is due: the next examination, or the end of life where that comes first."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Literal

import msgspec

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import open_quarantines, status_of
from gearlog.domain.vocabulary import Came, EventKind, Status, label
from gearlog.upkeep.examinations import uncleared
from gearlog.upkeep.life import LifeEnd, end_of_life
from gearlog.upkeep.rule_files import base_set
from gearlog.upkeep.schedule import DEFAULT_BOOK, RuleBook, set_dates

DueState = Literal["overdue", "due-soon", "in-date", "out-of-service", "never-examined"]
DUE_SOON_DAYS = 30
"""Days before the due date at which it is told; our default, no source."""


REASON_LENGTH = 80
"""Characters of a written reason that one line has room for."""
UNTIL_RELEASED = "not to be used until it is released"


class Due(msgspec.Struct, frozen=True):
    """When an item is due and why.

    Attributes:
        due_on: the last day on which it may be done, or None when there is none or it is due at once.
        state: where it stands today.
        rule: what sets the date.
        reason: one line in words, the state included, for a screen without colours.
    """

    due_on: date | None
    state: DueState
    rule: str
    reason: str


def due_of(
    item: Item, events: Sequence[Event], today: date, book: RuleBook = DEFAULT_BOOK, life: LifeEnd | None = None
) -> Due:
    """What is due for ``item`` on ``today`` by the earliest of all rules that apply; the safe side of partial dates.

    ``life`` is when its life ends, where that was worked out already.
    """
    status = status_of(events)
    if status is not Status.IN_SERVICE:
        return Due(None, "out-of-service", _why_out(status, events), _out_of_service(status, events))
    life = life or end_of_life(item, today)
    examination = _examination_due(item, events, today, book)
    if life.on is not None and (life.state == "ended" or _comes_first(life.on, examination)):
        return _by_life(life, life.on, today)
    return examination


def _why_out(status: Status, events: Sequence[Event]) -> str:
    """The rule that keeps it out of service, where its history names one."""
    causes = {event.kind for event in open_quarantines(events)} if status is Status.QUARANTINED else set()
    sources = [after.source for after in base_set().after if causes & set(after.events)]
    return f"out of service ({'; '.join(sources)})" if sources else "out of service"


def _out_of_service(status: Status, events: Sequence[Event]) -> str:
    """The status in words, with what put it there."""
    if status is not Status.QUARANTINED:
        return f"{label(status)}: not to be used"
    causes = ", ".join(_cause(event) for event in open_quarantines(events))
    return f"quarantined ({causes}): {UNTIL_RELEASED}"


def _cause(event: Event) -> str:
    """What took it out of use and when; of a quarantine the reason that was written, on one line."""
    words = " ".join(event.notes.split()) if event.kind is EventKind.QUARANTINED else ""
    told = words if len(words) <= REASON_LENGTH else f"{words[:REASON_LENGTH].rpartition(' ')[0]} ..."
    return f"{told or label(event.kind)} on {event.happened_on}"


def _comes_first(life_end: date, examination: Due) -> bool:
    return examination.due_on is not None and life_end < examination.due_on


def _by_life(life: LifeEnd, on: date, today: date) -> Due:
    if life.state == "ended":
        return Due(on, "overdue", "end of life", f"OVERDUE: life ended on {on}, {life.reason}")
    return Due(on, _state(on, today), "end of life", f"{_lead(on, today)}life ends on {on}, {life.reason}")


def _examination_due(item: Item, events: Sequence[Event], today: date, book: RuleBook) -> Due:
    cause = uncleared(events)
    if cause is not None:
        what = f"{label(cause.kind)} on {cause.happened_on}"
        return Due(cause.happened_on.earliest(), "overdue", "at once after an exceptional event",
                   f"OVERDUE: {what} and not examined since")  # fmt: skip
    dated = set_dates(item, events, today, book)
    if not dated or dated[0].on is None:
        since = " since it was bought used" if item.came is Came.USED else ""
        return Due(None, "never-examined", "before first use", f"OVERDUE: never examined{since}")
    on, first = dated[0].on, dated[0]
    return Due(on, _state(on, today), first.rule, f"{_lead(on, today)}{first.what} due on {on}, {first.rule}")


def _state(on: date, today: date) -> Literal["overdue", "due-soon", "in-date"]:
    if on < today:
        return "overdue"
    return "due-soon" if on - today <= timedelta(days=DUE_SOON_DAYS) else "in-date"


def _lead(on: date, today: date) -> str:
    return {"overdue": "OVERDUE: ", "due-soon": "due soon: ", "in-date": ""}[_state(on, today)]
