"""Two ropes joined, to scale from where they meet: each tail in, or tucked into, the other rope."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from gearlog.domain.picture.labels import is_imperial, span_names
from gearlog.domain.picture.parts import (
    CORE,
    TAPERED_TUCKS,
    is_exchange,
    shown_spans,
    span_of,
)
from gearlog.domain.picture.sections import Sections, sections_of, strands_left
from gearlog.domain.plan import Plan, Span
from gearlog.splicing.pictures.canvas import Row, Stretch, letter_rows, stretch_rows
from gearlog.splicing.pictures.columns import Columns, Ruler
from gearlog.splicing.pictures.lying import BEYOND
from gearlog.splicing.pictures.signs import COMES_FROM, GOES_ON, NOTHING, STRANDS, TUCKS, WHOLE, sign
from gearlog.units.visible import folded, visible

EDGE, MEET = "-", "|"
STRANDS_OF_A_ROPE = 3  # strands that change places in a long splice, each at its own break


@dataclass(frozen=True, slots=True)
class Joined:
    """Two ropes that meet at column ``middle``; distances from there, on either side.

    Attributes:
        meets_m: how far from each rope's end they meet.
        reach_m: how far the splice goes from there.
    """

    plan: Plan
    sections: Sections
    columns: Columns
    middle: int
    meets_m: float
    reach_m: float

    def column(self, at_m: float, *, second: bool) -> int:
        """The column of a place on one of the ropes, told from that rope's own end."""
        from_middle = self.meets_m - at_m
        return self.columns.column(-from_middle if second else from_middle)

    def on_rope(self, column: int, *, second: bool) -> float:
        """The place on one of the ropes that lies in a column, told from that rope's own end (m)."""
        from_middle = (column - self.middle) * self.columns.axis.step_m
        return self.meets_m + from_middle if second else self.meets_m - from_middle


def joined(plan: Plan, width: int) -> tuple[str, ...]:
    """The finished join; nothing where it cannot be drawn from the plan, as with cover and core apart."""
    shape = _joined(plan, width)
    if shape is None:
        return ()
    rows = _exchanged(shape, width) if is_exchange(plan) else _two_ropes(shape, width)
    what = "each strand of one rope goes on as one of the other" if is_exchange(plan) else "each tail in the other rope"
    return (
        *folded(f"Joined, {what}; lengths from where they meet:", width),
        *letter_rows(_letters(shape, second=False), width),
        *rows,
        *reversed(letter_rows(_letters(shape, second=True), width)),
        *stretch_rows(list(_stretches(shape)), width),
        *Ruler(shape.columns, 0, width - 1, is_imperial(plan)).rows(),
        "",
    )


def _joined(plan: Plan, width: int) -> Joined | None:
    into = _into(plan)
    if any(span.part == CORE for span in plan.spans) or into is None:
        return None
    meets, reach = into.from_m, max(span.to_m for span in shown_spans(plan)) - into.from_m
    strands = plan.tucks.tail_m if plan.tucks else 0.0
    middle = (width - 1) // 2
    step = (reach + strands) / (middle - BEYOND)
    if step <= 0:
        return None
    return Joined(plan, sections_of(plan), Columns.plain(middle, step), middle, meets, reach)


def _into(plan: Plan) -> Span | None:
    """The stretch of each rope that takes the other one in: its bury, or where it is tucked."""
    return span_of(plan, "bury") or span_of(plan, "tucks")


def _letters(shape: Joined, *, second: bool) -> list[tuple[int, str]]:
    """Letters of the first rope stand above the picture, those of the second below it."""
    laid = span_of(shape.plan, "unlay") is not None
    marks = [mark for mark in shape.plan.marks if not laid or mark.at_m >= shape.meets_m]
    return [(shape.column(mark.at_m, second=second), visible(mark.letter)) for mark in marks]


def _two_ropes(shape: Joined, width: int) -> Iterator[str]:
    edge = Row(width)
    edge.write(0, COMES_FROM + EDGE * (width - 2) + GOES_ON)
    edge.write(shape.middle, MEET)
    named = Row(width)
    named.write(0, str(edge))
    for name, centre in ((" first rope ", shape.middle // 2), (" second rope ", shape.middle + shape.middle // 2)):
        named.write(centre - len(name) // 2, name)
    yield str(named)
    for second in (False, True):
        row = Row(width)
        for column in range(1, width - 1):
            row.write(column, _sign(shape, column, second=second))
        row.write(width - 1 if second else 0, GOES_ON if second else COMES_FROM)
        yield str(row)
    yield str(edge)


def _sign(shape: Joined, column: int, *, second: bool) -> str:
    """The sign of one rope at a column: whole up to the meeting point, its tail beyond it."""
    at_m = shape.on_rope(column, second=second)
    if span_of(shape.plan, "unlay") is None:
        return sign(shape.sections.tail_left(at_m)) if at_m >= 0 else NOTHING
    return _strand_sign(shape, shape.meets_m - at_m)


def _strand_sign(shape: Joined, beyond_m: float) -> str:
    """A laid rope ``beyond_m`` past the meeting point: its strands tucked, then standing out."""
    tucks, tail = span_of(shape.plan, "tucks"), shape.plan.tucks.tail_m if shape.plan.tucks else 0.0
    edge = shape.columns.edge(beyond_m)
    if beyond_m < 0 or tucks is None:
        return WHOLE
    if edge <= tucks.to_m - tucks.from_m:
        return TUCKS
    if edge <= shape.reach_m:
        return sign(strands_left(shape.plan, shape.meets_m + edge))
    return STRANDS if edge <= shape.reach_m + tail else NOTHING


def _exchanged(shape: Joined, width: int) -> Iterator[str]:
    """Three strands, the breaks one at the meeting point and one on each side of it."""
    apart = shape.columns.column(shape.reach_m) - shape.middle
    for number in range(STRANDS_OF_A_ROPE):
        row = Row(width)
        place = shape.middle + (number - 1) * apart
        row.write(0, COMES_FROM + "1" * (place - 1) + MEET + "2" * (width - 2 - place) + GOES_ON)
        yield str(row)
    yield from folded("1 strand of the first rope; 2 of the second; | they are knotted and tucked here", width)


def _stretches(shape: Joined) -> Iterator[Stretch]:
    """What lies in the second rope, and its mirror image in the first one."""
    for span in shown_spans(shape.plan):
        if span.kind in {"bury", "tucks", TAPERED_TUCKS}:
            for second in (False, True):
                ends = sorted(shape.column(at_m, second=second) for at_m in (span.from_m, span.to_m))
                yield Stretch(ends[0], ends[1], *span_names(shape.plan, span))
