"""Two ends joined, to scale from where they meet: two ropes, or the two ends of a loop."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from gearlog.domain.picture.axis import Axis, Piece
from gearlog.domain.picture.labels import is_imperial, span_names
from gearlog.domain.picture.parts import CORE, TAPERED_TUCKS, is_exchange, span_of, spans_of
from gearlog.domain.picture.sections import Sections, sections_of
from gearlog.domain.plan import Plan, Span
from gearlog.reports.card.vector.bands import outlined
from gearlog.reports.card.vector.figure import HEAVY, SMALL, Figure, Part, Words, box, line, moved, width_of
from gearlog.reports.card.vector.layout import (
    ROW,
    Stretch,
    cut_sign,
    lettered,
    mark_lines,
    mark_lines_under,
    named,
    ruler,
)
from gearlog.reports.card.vector.patterns import Band, drawn, pattern_of
from gearlog.units.visible import visible

BEYOND, GAP, SIGN = 8.0, 1.5, 3.0  # mm
HIGH = 10.0  # mm; the rope
INSIDE = 0.38  # of the height: half of what a whole tail takes
LOOP_BURIES = 2
STRANDS = 3
TAIL_NAMES = ("first end's tail", "second end's tail")


@dataclass(frozen=True, slots=True)
class Joined:
    """Two ends on a sheet of ``width``; ``axis`` tells distances from where they meet, either way.

    Attributes:
        takes: the stretch of each end that takes the other one in.
        again_m: where the second end of a loop meets the first, from the first end; None for two ropes.
    """

    plan: Plan
    sections: Sections
    axis: Axis
    takes: Span
    width: float
    again_m: float | None

    def place(self, at_m: float, *, second: bool) -> float:
        """Where a place on one end lies on the sheet, told from that end's own tip (mm)."""
        return self.axis.place(at_m - self.takes.from_m if second else self.takes.from_m - at_m)


def joined(plan: Plan, width: float) -> Figure | None:
    """The figure; None for a plan that joins nothing, or whose cover is milked over its core."""
    buries = spans_of(plan, "bury")
    takes = _takes(plan)
    if takes is None or any(span.part == CORE for span in plan.spans):
        return None
    reach = max(span.to_m for span in _into(plan, takes)) - takes.from_m
    step = (reach + (plan.tucks.tail_m if plan.tucks else 0.0)) / (width / 2 - BEYOND)
    if step <= 0:
        return None
    axis = Axis(step, (Piece(0.0, 0.0, width / 2),))
    again = buries[1].to_m if plan.shape == "loop" else None
    return _figure(Joined(plan, sections_of(plan), axis, takes, width, again))


def _takes(plan: Plan) -> Span | None:
    if plan.shape == "join":
        return span_of(plan, "bury") or span_of(plan, "tucks")
    buries = spans_of(plan, "bury")
    return buries[0] if plan.shape == "loop" and len(buries) == LOOP_BURIES else None


def _into(plan: Plan, takes: Span) -> list[Span]:
    """What lies beyond the meeting point on one end: the bury, or all tucks."""
    return [takes, *spans_of(plan, TAPERED_TUCKS)]


def _figure(shape: Joined) -> Figure:
    first, second = (lettered(_marks(shape, second=end)) for end in (False, True))
    top = ROW + first.height
    under = top + HIGH + second.height + GAP
    stretches = named(_stretches(shape), shape.width)
    measure = ruler(shape.axis, SIGN, shape.width - SIGN, imperial=is_imperial(shape.plan))
    end = under + stretches.height + GAP
    rope = _exchanged(shape, top) if is_exchange(shape.plan) else _both(shape, top)
    parts = (
        Words(0.0, SMALL, _title(shape.plan), SMALL, bold=True),
        *rope,
        *moved(mark_lines(first, first.height + HIGH), ROW),
        *mark_lines_under(second, top, top + HIGH),
        *moved(stretches.parts, under),
        *moved(measure.parts, end),
    )
    return Figure(shape.width, end + measure.height, parts)


def _title(plan: Plan) -> str:
    if plan.shape == "loop":
        return "Where the two ends of the loop meet, each tail in the other end; lengths from there, to scale"
    if is_exchange(plan):
        return "Joined, each strand of one rope goes on as one of the other; lengths from the middle, to scale"
    return "Joined, each tail in the other rope; lengths from where they meet, to scale"


def _marks(shape: Joined, *, second: bool) -> list[tuple[float, str]]:
    """The marks of the first end stand above, those of the second below; opened strands have none."""
    places = [(mark.at_m, visible(mark.letter)) for mark in shape.plan.marks]
    if shape.again_m is not None:
        total = shape.again_m + shape.takes.from_m
        places = [(total - at if second else at, letter) for at, letter in places if (2 * at > total) is second]
    if span_of(shape.plan, "unlay") is not None:
        places = [(at, letter) for at, letter in places if at >= shape.takes.from_m]
    return [(shape.place(at, second=second), letter) for at, letter in places]


def _both(shape: Joined, top: float) -> Iterator[Part]:
    """The rope on both sides of the meeting point, and what of the other one lies in it."""
    middle, bottom = top + HIGH / 2, top + HIGH
    yield box(SIGN / 2, top, shape.width - SIGN / 2, bottom)
    for second in (False, True):
        if span_of(shape.plan, "unlay") is None:
            yield from _tail(shape, middle, second=second)
        else:
            yield from _strands(shape, top, second=second)
    yield line(shape.width / 2, top, shape.width / 2, bottom, HEAVY)
    for left in (0.0, shape.width - SIGN):
        yield from cut_sign(left, left + SIGN, top, bottom)


def _tail(shape: Joined, middle: float, *, second: bool) -> Iterator[Part]:
    """One end's tail, from the meeting point to its tip in the other end."""
    sections, meets = shape.sections, shape.takes.from_m
    side, half = 1.0 if second else -1.0, HIGH * INSIDE
    sides = sorted((shape.width / 2, shape.place(0.0, second=second)))

    def left(from_middle: float) -> float:
        return sections.tail_left(min(max(meets + side * from_middle, 0.0), meets))

    changes = [side * (place - meets) for place in sections.changes() if place <= meets]
    yield from outlined(shape.axis, (sides[0], sides[1]), (middle - half, middle + half), left, changes)
    name = TAIL_NAMES[second].replace("end's", "end's" if shape.again_m is not None else "rope's")
    if width_of(name, SMALL) < (sides[1] - sides[0]) / 2:
        x = sides[1] - GAP if second else sides[0] + GAP
        yield Words(x, middle + SMALL / 3, name, SMALL, "end" if second else "start")


def _strands(shape: Joined, top: float, *, second: bool) -> Iterator[Part]:
    """The strands of one laid rope, tucked into the other one, their tails standing out."""
    side = -1.0 if second else 1.0
    end = shape.width / 2
    for span in _into(shape.plan, shape.takes):
        places = [
            shape.width / 2 + side * (at - shape.takes.from_m) / shape.axis.step_m for at in (span.from_m, span.to_m)
        ]
        yield from drawn(pattern_of(shape.plan, span.kind), Band(min(places), top, max(places), top + HIGH))
        yield line(places[1], top, places[1], top + HIGH)
        end = places[1]
    out = (shape.plan.tucks.tail_m if shape.plan.tucks else 0.0) / shape.axis.step_m
    yield from (line(end, y, end + side * out, y + over) for y, over in ((top, -GAP), (top + HIGH, GAP)))


def _exchanged(shape: Joined, top: float) -> Iterator[Part]:
    """Three strands, each with its own break: those of the second rope are hatched."""
    high, apart = HIGH / STRANDS, (shape.takes.to_m - shape.takes.from_m) / shape.axis.step_m
    for number in range(STRANDS):
        y, place = top + number * high, shape.width / 2 + (number - 1) * apart
        yield box(0.0, y, shape.width, y + high)
        yield from drawn("exchanged", Band(place, y, shape.width, y + high))
        yield line(place, y, place, y + high, HEAVY)


def _stretches(shape: Joined) -> list[Stretch]:
    found: list[Stretch] = []
    for span in _into(shape.plan, shape.takes):
        for second in (False, True):
            start, stop = sorted(shape.place(at_m, second=second) for at_m in (span.from_m, span.to_m))
            found.append(Stretch(start, stop, *span_names(shape.plan, span)))
    return found
