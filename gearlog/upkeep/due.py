"""When an item is due: the next examination, or the end of life where that comes first."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Literal

import msgspec

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import open_quarantines, status_of
from gearlog.domain.vocabulary import Status, label
from gearlog.upkeep.examinations import last_examination, uncleared
from gearlog.upkeep.life import LifeEnd, end_of_life
from gearlog.upkeep.months import add_months

DueState = Literal["overdue", "due-soon", "in-date", "out-of-service", "never-examined"]
DUE_SOON_DAYS = 30
"""Days before the due date at which it is told; our default, no source."""
DEFAULT_MONTHS = 6
"""Months to the next examination when none was set: LOLER 1998 reg. 9(3)(a), the shortest interval for all kit."""
DEFAULT_RULE = f"{DEFAULT_MONTHS} months after the last examination (our default, on the safe side)"


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


def due_of(item: Item, events: Sequence[Event], today: date) -> Due:
    """What is due for ``item`` on ``today``; partial dates are read as their first day."""
    status = status_of(events)
    if status is not Status.IN_SERVICE:
        return Due(None, "out-of-service", "out of service", _out_of_service(status, events))
    life = end_of_life(item, today)
    examination = _examination_due(events, today)
    if life.on is not None and (life.state == "ended" or _comes_first(life.on, examination)):
        return _by_life(life, life.on, today)
    return examination


def _out_of_service(status: Status, events: Sequence[Event]) -> str:
    """The status in words, with what put it there."""
    if status is not Status.QUARANTINED:
        return f"{label(status)}: not to be used"
    causes = ", ".join(f"{label(event.kind)} on {event.happened_on}" for event in open_quarantines(events))
    return f"quarantined ({causes}): not to be used until it is released"


def _comes_first(life_end: date, examination: Due) -> bool:
    return examination.due_on is not None and life_end < examination.due_on


def _by_life(life: LifeEnd, on: date, today: date) -> Due:
    if life.state == "ended":
        return Due(on, "overdue", "end of life", f"OVERDUE: life ended on {on}, {life.reason}")
    return Due(on, _state(on, today), "end of life", f"{_lead(on, today)}life ends on {on}, {life.reason}")


def _examination_due(events: Sequence[Event], today: date) -> Due:
    cause = uncleared(events)
    if cause is not None:
        what = f"{label(cause.kind)} on {cause.happened_on}"
        return Due(cause.happened_on.earliest(), "overdue", "at once after an exceptional event",
                   f"OVERDUE: {what} and not examined since")  # fmt: skip
    last = last_examination(events, today)
    if last is None:
        return Due(None, "never-examined", "before first use", "OVERDUE: never examined")
    on, rule = _next_after(last)
    return Due(on, _state(on, today), rule, f"{_lead(on, today)}examination due on {on}, {rule}")


def _next_after(last: Event) -> tuple[date, str]:
    if last.next_due_on is not None:
        return last.next_due_on.earliest(), f"set at the examination of {last.happened_on}"
    return add_months(last.happened_on.earliest(), DEFAULT_MONTHS), DEFAULT_RULE


def _state(on: date, today: date) -> Literal["overdue", "due-soon", "in-date"]:
    if on < today:
        return "overdue"
    return "due-soon" if on - today <= timedelta(days=DUE_SOON_DAYS) else "in-date"


def _lead(on: date, today: date) -> str:
    return {"overdue": "OVERDUE: ", "due-soon": "due soon: ", "in-date": ""}[_state(on, today)]
