"""An eye closed, to scale: the throat, and what lies inside the standing part."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from gearlog.domain.picture.labels import is_imperial, length_of, span_names
from gearlog.domain.picture.parts import CORE, TAPERED_TUCKS, main_part, shown_spans, span_of
from gearlog.domain.picture.sections import Sections, sections_of, strands_left
from gearlog.domain.plan import Mark, Plan, Span
from gearlog.splicing.pictures.canvas import Row, Stretch, letter_rows, stretch_rows
from gearlog.splicing.pictures.columns import Columns, Ruler
from gearlog.splicing.pictures.lying import BEYOND
from gearlog.splicing.pictures.signs import CUT, GOES_ON, NOTHING, STRANDS, TUCKS, sign
from gearlog.units.visible import folded, visible

LEAST_EYE = 6  # columns; below this a loop is no loop to look at
MOST_EYE = 0.6  # of the columns; a loop that would take more leaves too little for the splice, and is cut through
NAMES = 7  # columns at the right for the names of the parts
EDGE = "-"
MEASURED_INSIDE = ("bury", "taper", "core-taper", "tucks", TAPERED_TUCKS)


@dataclass(frozen=True, slots=True)
class Closed:
    """A plan with its eye closed; distances from the throat, into the standing part positive.

    Attributes:
        eye: the stretch that becomes the eye.
        columns: of the picture; column ``throat`` is the throat, distance zero.
        right: the column where the standing part goes on.
        cut: whether the eye is longer than drawn.
    """

    plan: Plan
    eye: Span
    sections: Sections
    columns: Columns
    throat: int
    right: int
    cut: bool

    def on_standing_part(self, at_m: float) -> int:
        """The column of a place on the rope beyond the eye, or on the eye's leg next to it."""
        return self.columns.column(at_m - self.eye.to_m)

    def on_tail(self, at_m: float) -> int:
        """The column of a place on the tail, which lies turned round, or on the eye's leg next to it."""
        return self.columns.column(self.eye.from_m - at_m)

    def is_tail(self, mark: Mark) -> bool:
        """Whether the mark is nearer to the tail than to the standing part."""
        return 2 * mark.at_m < self.eye.from_m + self.eye.to_m

    def from_throat(self, column: int) -> float:
        """The distance of a column from the throat (m)."""
        return (column - self.throat) * self.columns.axis.step_m


def closed(plan: Plan, width: int) -> tuple[str, ...]:
    """The finished eye; nothing for a plan without one."""
    eye = span_of(plan, "eye")
    if eye is None or eye.to_m <= eye.from_m:
        return ()
    shape = _closed(plan, eye, width)
    inside = length_of(plan, (eye.to_m - eye.from_m) / 2)
    alone = ", the core alone" if eye.part == CORE else ""
    return (
        *folded(f"Finished{alone}, eye {inside} inside; lengths from the throat:", width),
        *_letters(shape, width, tail=False),
        *_loop(shape, width),
        *reversed(_letters(shape, width, tail=True)),
        *stretch_rows(list(_stretches(shape)), width),
        *Ruler(shape.columns, shape.throat, shape.right + 1, is_imperial(plan)).rows(),
        *([f"At {CUT} the eye is longer than drawn."] if shape.cut else []),
        "",
    )


def _closed(plan: Plan, eye: Span, width: int) -> Closed:
    """The largest scale that shows the splice whole; an eye too small to see is drawn wider, a large one shorter."""
    inside = (eye.to_m - eye.from_m) / 2
    beyond = _reach(plan, eye)
    columns = width - 1 - NAMES - BEYOND
    step = max((inside + beyond) / columns, beyond / (columns - LEAST_EYE))
    throat, cut = max(round(inside / step), LEAST_EYE), False
    if beyond > 0 and throat > MOST_EYE * columns:
        throat, cut = round(MOST_EYE * columns), True
        step = beyond / (columns - throat)
    return Closed(plan, eye, sections_of(plan), Columns.plain(throat, step), throat, width - 1 - NAMES, cut)


def _reach(plan: Plan, eye: Span) -> float:
    """How far the splice goes into the standing part (m)."""
    ends = [span.to_m - eye.to_m for span in shown_spans(plan) if span.kind in MEASURED_INSIDE]
    marks = [mark.at_m - eye.to_m for mark in plan.marks]
    tail = 0.0 if _laid(plan) else eye.from_m
    strands = _stand_out(plan)[1] - eye.to_m if plan.tucks else 0.0
    return max(tail, strands, *ends, *marks, 0.0)


def _laid(plan: Plan) -> bool:
    """Whether the tail's strands are tucked one by one instead of lying inside as a tail."""
    return span_of(plan, "unlay") is not None


def _stand_out(plan: Plan) -> tuple[float, float]:
    """From where to where the strands' tails stand out beyond the last tuck (m)."""
    ends = [span.to_m for span in shown_spans(plan) if span.kind in {"tucks", TAPERED_TUCKS}]
    start = max(ends, default=0.0)
    return start, start + (plan.tucks.tail_m if plan.tucks and ends else 0.0)


def _letters(shape: Closed, width: int, *, tail: bool) -> list[str]:
    """Letters of the standing part above the picture, those of the tail below it."""
    column = shape.on_tail if tail else shape.on_standing_part
    marks = [mark for mark in shape.plan.marks if shape.is_tail(mark) is tail]
    if _laid(shape.plan):
        marks = [mark for mark in marks if mark.at_m >= shape.eye.from_m]
    return letter_rows([(column(mark.at_m), visible(mark.letter)) for mark in marks], width)


def _loop(shape: Closed, width: int) -> Iterator[str]:
    """The eye as a loop, its legs meeting at the throat, the standing part with what lies in it."""
    yield _cap(shape, ".")
    yield _edge(shape, width, "/\\", shape.eye.part)
    for number, (name, shown) in enumerate(_inside(shape)):
        row = Row(width)
        row.write(0, "|")
        if not number:
            row.write(2, "eye"[: shape.throat - 3])
        for column in range(shape.throat, shape.right):
            row.write(column, shown(column))
        row.write(shape.right + 1, name)
        yield str(row)
    yield _edge(shape, width, "\\/", "")
    yield _cap(shape, "'")


def _cap(shape: Closed, corner: str) -> str:
    """One side of the eye."""
    side = EDGE * (shape.throat - 4)
    if shape.cut:
        before = (len(side) - len(CUT)) // 2
        side = side[:before] + CUT + side[before + len(CUT) :]
    return f" {corner}{side}{corner}"


def _edge(shape: Closed, width: int, corners: str, name: str) -> str:
    """One side of the rope from the eye's shoulder on; tails of tucked strands stand out of it."""
    row, throat = Row(width), shape.throat
    row.write(0, corners[0])
    row.write(throat - 1, corners[1] + EDGE * (shape.right - throat) + GOES_ON)
    row.write(shape.right + 2, visible(name))
    start, stop = (shape.on_standing_part(at_m) for at_m in _stand_out(shape.plan))
    row.write(start, STRANDS * (stop - start))
    return str(row)


def _inside(shape: Closed) -> Iterator[tuple[str, Callable[[int], str]]]:
    """What lies between the rope's edges, row by row: its name and its sign at a column."""
    if span_of(shape.plan, "bury") is not None:
        yield " tail", lambda column: _tail_sign(shape, column)
        if span_of(shape.plan, "core-taper") is not None:
            yield " core", lambda column: _core_sign(shape, column)
    else:
        yield f" {visible(main_part(shape.plan))}", lambda column: _solid_sign(shape, column)


def _tail_sign(shape: Closed, column: int) -> str:
    on_tail = shape.eye.from_m - shape.from_throat(column)
    return sign(shape.sections.tail_left(on_tail)) if on_tail >= 0 else NOTHING


def _core_sign(shape: Closed, column: int) -> str:
    return sign(shape.sections.core_left(shape.eye.to_m + shape.from_throat(column)))


def _solid_sign(shape: Closed, column: int) -> str:
    """The standing part itself, tucked where strands go through it."""
    tucks = span_of(shape.plan, "tucks")
    if tucks is not None and shape.on_standing_part(tucks.from_m) <= column < shape.on_standing_part(tucks.to_m):
        return TUCKS
    return sign(strands_left(shape.plan, shape.columns.edge(shape.eye.to_m + shape.from_throat(column))))


def _stretches(shape: Closed) -> Iterator[Stretch]:
    for span in shown_spans(shape.plan):
        if span.kind not in MEASURED_INSIDE:
            continue
        names = span_names(shape.plan, span)
        if span.to_m <= shape.eye.from_m:
            yield Stretch(shape.on_tail(span.to_m), shape.on_tail(span.from_m), *names)
        else:
            yield Stretch(shape.on_standing_part(span.from_m), shape.on_standing_part(span.to_m), *names)
