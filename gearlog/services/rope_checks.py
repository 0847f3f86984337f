"""What only the log can say against a plan: the rope's status, its end, the splice at its other end."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import EndView, end_states, open_quarantines, status_of
from gearlog.domain.plan import Check, Plan
from gearlog.domain.vocabulary import End, EndState, Status, label
from gearlog.services.shelf import Shelf
from gearlog.units.visible import visible

SOURCE = "the log"
OTHER = {"A": End.B, "B": End.A}
_ORDER = {"stop": 0, "warn": 1, "note": 2}


def found(rope: Item, end: str, shelf: Shelf) -> tuple[Check, ...]:
    """The checks on this rope and end."""
    events = shelf.events_of(rope.id)
    checks = [_out_of_service(rope, status_of(events), open_quarantines(events))]
    if end:
        ends = end_states(rope, shelf.versions_of(rope.id), events)
        checks += [_end_in_use(ends.get(End(end)), end), _other_end(ends.get(OTHER[end]), OTHER[end])]
    return tuple(check for check in checks if check is not None)


def with_checks(plan: Plan, checks: tuple[Check, ...]) -> Plan:
    """The plan with these checks too; stops stay first."""
    if not checks:
        return plan
    return replace(plan, checks=tuple(sorted((*plan.checks, *checks), key=lambda check: _ORDER[check.level])))


def extent(plan: Plan) -> float | None:
    """How far the splice reaches from the working end (m), as the rope was measured before; None without marks."""
    return max((mark.at_m for mark in plan.marks), default=None)


def other_extent(ends: Mapping[End, EndView], end: str) -> float | None:
    """How far the splice at the rope's other end reaches (m); None when there is none, or none with a plan."""
    other = OTHER.get(end)
    view = ends.get(other) if other is not None else None
    if view is None or view.splice is None or view.splice.plan is None:
        return None
    return extent(view.splice.plan)


def _out_of_service(rope: Item, status: Status, causes: Sequence[Event]) -> Check | None:
    if status is Status.IN_SERVICE:
        return None
    way_out = "have it released first" if status is Status.QUARANTINED else "take another rope"
    told = ", ".join(f"{label(event.kind)} on {event.happened_on}" for event in causes)
    why = f" ({told})" if told and status is Status.QUARANTINED else ""
    message = f"rope {visible(rope.tag)} is {label(status)}{why}: not to be spliced for use; {way_out}"
    return Check(level="stop", code="rope-out-of-service", message=message, source=SOURCE)


def _end_in_use(view: EndView | None, end: str) -> Check | None:
    if view is None or view.state in {EndState.BARE, EndState.WHIPPED}:
        return None
    message = f"end {end} is {label(view.state)} already; what is there must be cut off or undone first"
    return Check(level="warn", code="end-in-use", message=message, source=SOURCE)


def _other_end(view: EndView | None, end: End) -> Check | None:
    """What is made at the other end carries the same load, and no plan here reckons with it."""
    if view is None or view.state in {EndState.BARE, EndState.WHIPPED}:
        return None
    knot = "; name its knot among the knots in the line" if view.state is EndState.KNOTTED else ""
    message = (
        f"end {end} is {label(view.state)}: what it keeps is not in this plan's chain, and the line is as strong as "
        f"the weaker of its ends{knot}"
    )
    return Check(level="note", code="other-end", message=message, source=SOURCE)
