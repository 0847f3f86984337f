"""The finished splice to scale: the eye closed, the throat, and what lies inside the standing part."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from gearlog.domain.plan import Mark, Plan, Span
from gearlog.splicing.canvas import Row, Scale, Stretch, letter_rows, ruler, stretch_rows
from gearlog.splicing.labels import is_imperial, length_of, span_names
from gearlog.splicing.lying import BEYOND, GOES_ON, STRANDS, TUCKS
from gearlog.splicing.thickness import NOTHING, core_left, sign, span_of, tail_left
from gearlog.units.visible import visible

LEAST_EYE = 6  # columns; below this a loop is no loop to look at
NAMES = 7  # columns at the right for the names of the parts
EDGE = "-"
WHOLE = "#"
MEASURED_INSIDE = ("bury", "taper", "core-taper", "tucks")


@dataclass(frozen=True, slots=True)
class Closed:
    """A plan with its eye closed; distances from the throat, into the standing part positive.

    Attributes:
        plan: the plan.
        eye: the span that becomes the eye.
        scale: of the picture; its column zero is the throat.
        right: the column where the standing part goes on.
    """

    plan: Plan
    eye: Span
    scale: Scale
    right: int

    def on_standing_part(self, at_m: float) -> int:
        """The column of a place on the rope beyond the eye, or on the eye's leg next to it."""
        return self.scale.column(at_m - self.eye.to_m)

    def on_tail(self, at_m: float) -> int:
        """The column of a place on the tail, which lies turned round, or on the eye's leg next to it."""
        return self.scale.column(self.eye.from_m - at_m)

    def is_tail(self, mark: Mark) -> bool:
        """Whether the mark is nearer to the tail than to the standing part."""
        return 2 * mark.at_m < self.eye.from_m + self.eye.to_m


def finished(plan: Plan, width: int) -> tuple[str, ...]:
    """The finished splice; nothing for a plan without an eye."""
    eye = span_of(plan, "eye")
    if eye is None or eye.to_m <= eye.from_m:
        return ()
    closed = _closed(plan, eye, width)
    inside = length_of(plan, (eye.to_m - eye.from_m) / 2)
    return (
        f"Finished, eye {inside} inside; lengths from the throat:",
        *_letters(closed, width, tail=False),
        *_loop(closed, width),
        *reversed(_letters(closed, width, tail=True)),
        *stretch_rows(list(_stretches(closed)), width),
        *ruler(closed.scale, closed.right + 1, imperial=is_imperial(plan)),
        "",
    )


def _closed(plan: Plan, eye: Span, width: int) -> Closed:
    """The largest scale that shows eye and splice whole, an eye too small to see drawn wider."""
    inside = (eye.to_m - eye.from_m) / 2
    beyond = _reach(plan, eye)
    columns = width - 1 - NAMES - BEYOND
    step = max((inside + beyond) / columns, beyond / (columns - LEAST_EYE))
    throat = max(round(inside / step), LEAST_EYE)
    return Closed(plan, eye, Scale(throat, step), width - 1 - NAMES)


def _reach(plan: Plan, eye: Span) -> float:
    """How far the splice goes into the standing part (m)."""
    ends = [span.to_m - eye.to_m for span in plan.spans if span.kind in MEASURED_INSIDE]
    marks = [mark.at_m - eye.to_m for mark in plan.marks]
    tail = 0.0 if _laid(plan) else eye.from_m
    strands = plan.tucks.tail_m + plan.tucks.count * plan.tucks.tuck_m if plan.tucks else 0.0
    return max(tail, strands, *ends, *marks, 0.0)


def _laid(plan: Plan) -> bool:
    """Whether the tail's strands are tucked one by one instead of lying inside as a tail."""
    return span_of(plan, "unlay") is not None


def _letters(closed: Closed, width: int, *, tail: bool) -> list[str]:
    """Letters of the standing part above the picture, those of the tail below it."""
    column = closed.on_tail if tail else closed.on_standing_part
    marks = [mark for mark in closed.plan.marks if closed.is_tail(mark) is tail]
    if _laid(closed.plan):
        marks = [mark for mark in marks if mark.at_m >= closed.eye.from_m]
    return letter_rows([(column(mark.at_m), visible(mark.letter)) for mark in marks], width)


def _loop(closed: Closed, width: int) -> Iterator[str]:
    """The eye as a loop, its legs meeting at the throat, the standing part with what lies in it."""
    inner = list(_inside(closed))
    throat = closed.scale.left
    yield _cap(throat, ".")
    yield _edge(closed, width, "/\\", closed.eye.part)
    for number, (name, shown) in enumerate(inner):
        row = Row(width)
        row.write(0, "|")
        if not number:
            row.write(2, "eye"[: throat - 3])
        for column in range(throat, closed.right):
            row.write(column, shown(column))
        row.write(closed.right + 1, name)
        yield str(row)
    yield _edge(closed, width, "\\/", "")
    yield _cap(throat, "'")


def _cap(throat: int, corner: str) -> str:
    return f" {corner}{EDGE * (throat - 4)}{corner}"


def _edge(closed: Closed, width: int, corners: str, name: str) -> str:
    """One side of the rope from the eye's shoulder on; tails of tucked strands stand out of it."""
    row, throat = Row(width), closed.scale.left
    row.write(0, corners[0])
    row.write(throat - 1, corners[1] + EDGE * (closed.right - throat) + GOES_ON)
    row.write(closed.right + 2, visible(name))
    tucks, spans = closed.plan.tucks, span_of(closed.plan, "tucks")
    if tucks is not None and spans is not None:
        start = closed.on_standing_part(spans.to_m)
        stop = closed.on_standing_part(spans.to_m + tucks.tail_m)
        row.write(start, STRANDS * (stop - start))
    return str(row)


def _inside(closed: Closed) -> Iterator[tuple[str, Callable[[int], str]]]:
    """What lies between the rope's edges, row by row: its name and its sign at a column."""
    if span_of(closed.plan, "bury") is not None:
        yield " tail", lambda column: _tail_sign(closed, column)
        if span_of(closed.plan, "core-taper") is not None:
            yield " core", lambda column: _core_sign(closed, column)
    else:
        yield f" {visible(closed.eye.part)}", lambda column: _solid_sign(closed, column)


def _tail_sign(closed: Closed, column: int) -> str:
    on_tail = closed.eye.from_m - closed.scale.at(column)
    return sign(tail_left(closed.plan, on_tail)) if on_tail >= 0 else NOTHING


def _core_sign(closed: Closed, column: int) -> str:
    return sign(core_left(closed.plan, closed.eye.to_m + closed.scale.at(column)))


def _solid_sign(closed: Closed, column: int) -> str:
    tucks = span_of(closed.plan, "tucks")
    if tucks is None:
        return WHOLE
    start, stop = closed.on_standing_part(tucks.from_m), closed.on_standing_part(tucks.to_m)
    return TUCKS if start <= column < stop else WHOLE


def _stretches(closed: Closed) -> Iterator[Stretch]:
    for span in closed.plan.spans:
        if span.kind not in MEASURED_INSIDE:
            continue
        names = span_names(closed.plan, span)
        if span.to_m <= closed.eye.from_m:
            yield Stretch(closed.on_tail(span.to_m), closed.on_tail(span.from_m), *names)
        else:
            yield Stretch(closed.on_standing_part(span.from_m), closed.on_standing_part(span.to_m), *names)
