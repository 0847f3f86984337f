"""An eye closed, to scale from its throat: the loop, the standing part, and what lies inside it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from gearlog.domain.picture.axis import Axis, Piece
from gearlog.domain.picture.labels import is_imperial, length_of, span_names
from gearlog.domain.picture.parts import CORE, TAPERED_TUCKS, is_milked, shown_spans, span_of
from gearlog.domain.picture.sections import Sections, sections_of
from gearlog.domain.plan import Mark, Plan, Span
from gearlog.reports.card.vector.bands import outlined
from gearlog.reports.card.vector.figure import SMALL, Figure, Part, Point, Stroke, Words, line, moved, width_of
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

NAMES, BEYOND = 12.0, 8.0  # mm at the right: names of the parts, and rope drawn past the splice
LEAST_EYE, MOST_HIGH, FLAT = 22.0, 9.0, 0.3  # mm, mm, and half height of the loop over its length
MOST_EYE = 0.6  # of the sheet; a loop that would take more leaves too little for the splice, and is cut through
HIGH = 10.0  # mm; the standing part with what lies in it
INSIDE = 0.38  # of the height: half of what a whole tail takes when it lies alone
GAP, SIGN, EDGE = 1.5, 3.0, 0.6  # mm
ACROSS = 0.7  # of the loop's half height: a sign of a cut across it, which reaches further itself
CURVE = 24  # points of each curve of the loop
INSIDE_KINDS = ("bury", "taper", "core-taper", "tucks", TAPERED_TUCKS)


@dataclass(frozen=True, slots=True)
class Closed:
    """A plan with its eye closed on a sheet: ``axis`` tells distances from the throat; a ``cut`` eye is longer."""

    plan: Plan
    eye: Span
    sections: Sections
    axis: Axis
    throat: float
    right: float
    cut: bool

    def on_standing_part(self, at_m: float) -> float:
        """Where a place beyond the eye lies on the sheet (mm)."""
        return self.axis.place(at_m - self.eye.to_m)

    def on_tail(self, at_m: float) -> float:
        """Where a place on the tail lies, which is turned round (mm)."""
        return self.axis.place(self.eye.from_m - at_m)

    def is_tail(self, mark: Mark) -> bool:
        """Whether the mark is nearer to the tail than to the standing part."""
        return 2 * mark.at_m < self.eye.from_m + self.eye.to_m


def closed(plan: Plan, width: float) -> Figure | None:
    """The figure; None for a plan whose eye cannot be drawn closed."""
    eye = span_of(plan, "eye")
    if plan.shape != "eye" or eye is None or eye.to_m <= eye.from_m or is_milked(plan):
        return None
    return _figure(_closed(plan, eye, width), width)


def _closed(plan: Plan, eye: Span, width: float) -> Closed:
    inside, beyond = (eye.to_m - eye.from_m) / 2, _reach(plan, eye)
    room = width - NAMES - BEYOND
    step = max((inside + beyond) / room, beyond / (room - LEAST_EYE)) or 1.0
    throat, cut = max(inside / step, LEAST_EYE), False
    if beyond > 0 and throat > MOST_EYE * room:
        throat, cut = MOST_EYE * room, True
        step = beyond / (room - throat)
    return Closed(plan, eye, sections_of(plan), Axis(step, (Piece(0.0, 0.0, throat),)), throat, width - NAMES, cut)


def _reach(plan: Plan, eye: Span) -> float:
    """How far the splice goes into the standing part (m)."""
    ends = [span.to_m - eye.to_m for span in shown_spans(plan) if span.kind in INSIDE_KINDS]
    marks = [mark.at_m - eye.to_m for mark in plan.marks]
    tail = 0.0 if _laid(plan) else eye.from_m
    return max(tail, max(ends, default=0.0) + (plan.tucks.tail_m if plan.tucks else 0.0), *marks, 0.0)


def _laid(plan: Plan) -> bool:
    return span_of(plan, "unlay") is not None


def _figure(shape: Closed, width: float) -> Figure:
    above, below = (lettered(_marks(shape, tail=tail)) for tail in (False, True))
    top = ROW + max(above.height, MOST_HIGH - HIGH / 2 + 2 * EDGE)
    bottom = top + HIGH
    stretches = named(_stretches(shape), width)
    under = bottom + max(below.height + GAP, MOST_HIGH - HIGH / 2 + 2 * EDGE)
    measure = ruler(shape.axis, shape.throat, shape.right, imperial=is_imperial(shape.plan))
    end = under + stretches.height + GAP
    parts = (
        Words(0.0, SMALL, _title(shape), SMALL, bold=True),
        *_loop(shape, (top + bottom) / 2),
        *_standing(shape, top),
        *moved(mark_lines(above, HIGH + above.height), top - above.height),
        *mark_lines_under(below, top, bottom),
        *moved(stretches.parts, under),
        *moved(measure.parts, end),
    )
    return Figure(width, end + measure.height, parts)


def _title(shape: Closed) -> str:
    inside = length_of(shape.plan, (shape.eye.to_m - shape.eye.from_m) / 2)
    alone = ", the core alone" if shape.eye.part == CORE else ""
    longer = " (longer than drawn)" if shape.cut else ""
    return f"Finished{alone}: eye {inside} inside{longer}, lengths from the throat, to scale"


def _marks(shape: Closed, *, tail: bool) -> list[tuple[float, str]]:
    """Marks of the standing part stand above, those of the tail below; opened strands have none."""
    place = shape.on_tail if tail else shape.on_standing_part
    chosen = [mark for mark in shape.plan.marks if shape.is_tail(mark) is tail]
    if _laid(shape.plan):
        chosen = [mark for mark in chosen if mark.at_m >= shape.eye.from_m]
    return [(place(mark.at_m), visible(mark.letter)) for mark in chosen]


def _loop(shape: Closed, middle: float) -> Iterator[Part]:
    """The eye: an outer and an inner line that meet the standing part at the throat."""
    long = shape.throat - EDGE
    thick = min(HIGH / 2, long * FLAT / 2)
    high = min(long * FLAT, MOST_HIGH)
    outer = [_curve(angle, shape.throat, long, HIGH / 2, high) for angle in _angles()]
    inner = [_curve(angle, shape.throat, long - thick, 0.0, high - thick) for angle in _angles()]
    for points in (outer, inner):
        upper = [(x, middle - y) for x, y in points]
        lower = [(x, middle + y) for x, y in points]
        yield Stroke((*upper, *reversed(lower)), closed=points is inner)
    if shape.cut:
        yield from cut_sign(shape.throat / 3, shape.throat / 3 + SIGN, middle - high * ACROSS, middle + high * ACROSS)
    if width_of("eye", SMALL) < long - 2 * thick:
        yield Words(shape.throat - long / 2, middle + SMALL / 3, "eye", SMALL, "middle")


def _angles() -> list[float]:
    return [math.pi * number / CURVE for number in range(CURVE + 1)]


def _curve(angle: float, throat: float, long: float, start: float, high: float) -> Point:
    """A point of half of the loop: from the throat, ``start`` off the axis, round to the crown on the axis."""
    x = throat - long * (1 - math.cos(angle)) / 2
    return x, start * (1 + math.cos(angle)) / 2 + (high - start / 2) * math.sin(angle) * math.sin(angle / 2)


def _standing(shape: Closed, top: float) -> Iterator[Part]:
    """The standing part with the tail, or the tucks, in it."""
    bottom = top + HIGH
    for y in (top, bottom):
        yield line(shape.throat, y, shape.right - SIGN / 2, y)
    for name, middle, parts in _contents(shape, top):
        yield from parts
        yield Words(shape.right + GAP, middle + SMALL / 3, name, SMALL)
    yield from cut_sign(shape.right - SIGN, shape.right, top, bottom)


def _contents(shape: Closed, top: float) -> Iterator[tuple[str, float, list[Part]]]:
    """What lies inside: its name, its middle on the sheet, and its outline."""
    middle = top + HIGH / 2
    if span_of(shape.plan, "bury") is None:
        yield "rope", middle, list(_tucked(shape, top))
        return
    both = span_of(shape.plan, "core-taper") is not None
    half = HIGH * INSIDE / (2 if both else 1)
    over = half if both else 0.0
    yield "tail", middle - over, _tail(shape, middle - over, half)
    if both:
        yield "core", middle + over, _core(shape, middle + over, half)


def _tail(shape: Closed, middle: float, half: float) -> list[Part]:
    eye, sections = shape.eye, shape.sections
    changes = sections.changes()
    ends = (shape.throat, shape.on_tail(0.0))

    def left(from_throat: float) -> float:
        return sections.tail_left(eye.from_m - from_throat) if from_throat <= eye.from_m else 0.0

    return outlined(shape.axis, ends, (middle - half, middle + half), left, [eye.from_m - at for at in changes])


def _core(shape: Closed, middle: float, half: float) -> list[Part]:
    core, eye = shape.sections.core, shape.eye
    places = [] if core is None else [core.thin_m - eye.to_m, core.thick_m - eye.to_m]

    def left(from_throat: float) -> float:
        return shape.sections.core_left(eye.to_m + from_throat)

    return outlined(shape.axis, (shape.throat, shape.right - SIGN / 2), (middle - half, middle + half), left, places)


def _tucked(shape: Closed, top: float) -> Iterator[Part]:
    """Strands tucked into the standing part, and their tails that stand out."""
    last = shape.throat
    for span in shown_spans(shape.plan):
        if span.kind in {"tucks", TAPERED_TUCKS}:
            last = shape.on_standing_part(span.to_m)
            band = Band(shape.on_standing_part(span.from_m), top, last, top + HIGH)
            yield from drawn(pattern_of(shape.plan, span.kind), band)
            yield line(last, top, last, top + HIGH)
    if shape.plan.tucks:
        out = shape.plan.tucks.tail_m / shape.axis.step_m
        yield from (line(last, y, last + out, y + over) for y, over in ((top, -GAP), (top + HIGH, GAP)))


def _stretches(shape: Closed) -> list[Stretch]:
    found: list[Stretch] = []
    for span in shown_spans(shape.plan):
        if span.kind in INSIDE_KINDS:
            place = shape.on_tail if span.to_m <= shape.eye.from_m else shape.on_standing_part
            start, stop = sorted((place(span.from_m), place(span.to_m)))
            found.append(Stretch(start, stop, *span_names(shape.plan, span)))
    return found
