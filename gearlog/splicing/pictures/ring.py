"""An endless loop pulled flat: the two ends meet in the middle of the upper run, each tail in the other end."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from gearlog.domain.picture.labels import length_of
from gearlog.domain.picture.parts import end_m, spans_of
from gearlog.domain.picture.sections import Sections, sections_of
from gearlog.domain.plan import Mark, Plan
from gearlog.splicing.pictures.canvas import Row, letter_rows
from gearlog.splicing.pictures.columns import Columns
from gearlog.splicing.pictures.signs import CUT, NOTHING, WHOLE, sign
from gearlog.units.visible import folded, visible

EDGE, MEET = "-", "|"
INSET = 3  # columns from the outer line to the rope in it
MOST_OF_A_BURY = 2.5  # a ring longer than this many buries on each side of the join is cut through
BURIES = 2  # one for each end


@dataclass(frozen=True, slots=True)
class Ring:
    """A loop from ``meets_m`` to ``again_m`` on the rope, which come to lie together at the column ``middle``."""

    plan: Plan
    sections: Sections
    columns: Columns
    middle: int
    meets_m: float
    again_m: float
    cut: bool

    def is_second(self, mark: Mark) -> bool:
        """Whether the mark is nearer to the second end."""
        return 2 * mark.at_m > self.meets_m + self.again_m

    def column(self, at_m: float, *, second: bool) -> int:
        """The column of a place on the rope: the first end comes from the left, the second from the right."""
        return self.columns.column(self.again_m - at_m if second else self.meets_m - at_m)

    def on_rope(self, column: int, *, second: bool) -> float:
        """The place on the rope that lies in a column (m)."""
        from_middle = (column - self.middle) * self.columns.axis.step_m
        return (self.again_m if second else self.meets_m) - from_middle


def ring(plan: Plan, width: int) -> tuple[str, ...]:
    """The finished loop; nothing where the plan is not a loop of two buries that fit into it."""
    shape = _ring(plan, width)
    if shape is None or plan.finished is None:
        return ()
    what = f"Finished, {length_of(plan, plan.finished.finished_m)} {visible(plan.finished.what)}, pulled flat:"
    places = [(shape.column(mark.at_m, second=shape.is_second(mark)), visible(mark.letter)) for mark in plan.marks]
    return (*folded(what, width), *letter_rows(places, width), *_rows(shape, width), *_cut_words(shape, width), "")


def _ring(plan: Plan, width: int) -> Ring | None:
    buries = spans_of(plan, "bury")
    if len(buries) != BURIES:
        return None
    first, second = buries
    long, quarter = first.to_m - first.from_m, (second.to_m - first.from_m) / 4
    if not 0 < long <= quarter or end_m(plan) is None:
        return None
    middle, cut = (width - 1) // 2, quarter > MOST_OF_A_BURY * long
    half = MOST_OF_A_BURY * long if cut else quarter
    step = half / (middle - INSET - (INSET + len(CUT) if cut else 0))
    return Ring(plan, sections_of(plan), Columns.plain(middle, step), middle, first.from_m, second.to_m, cut)


def _rows(shape: Ring, width: int) -> Iterator[str]:
    inner, last = width - 2 * INSET - 2, width - 1
    yield _line(shape, width, f" .{EDGE * (width - 4)}.", meet=True)
    yield _band(shape, width, "/\\", lambda column: _sign(shape, column, second=False))
    yield _band(shape, width, "||", lambda column: _sign(shape, column, second=True))
    yield _line(shape, width, f"|{' ' * (INSET - 1)}.{EDGE * inner}.{' ' * (INSET - 1)}|")
    words = Row(width)
    words.write(0, f"|{' ' * (INSET - 1)}|")
    words.write(last - INSET, f"|{' ' * (INSET - 1)}|")
    words.write(2 * INSET, "inside of the loop")
    yield str(words)
    yield _line(shape, width, f"|{' ' * (INSET - 1)}'{EDGE * inner}'{' ' * (INSET - 1)}|")
    yield _band(shape, width, "\\/", lambda _: WHOLE)
    yield _line(shape, width, f" '{EDGE * (width - 4)}'")


def _line(shape: Ring, width: int, text: str, *, meet: bool = False) -> str:
    row = Row(width)
    row.write(0, text)
    if meet:
        row.write(shape.middle, MEET)
    return _cut_through(shape, row, width)


def _band(shape: Ring, width: int, sides: str, shown: Callable[[int], str]) -> str:
    """One run of the rope between the ring's outer and inner line."""
    row = Row(width)
    for column in range(INSET, width - INSET):
        row.write(column, shown(column))
    row.write(0, sides[0])
    row.write(width - 1, sides[1])
    return _cut_through(shape, row, width)


def _cut_through(shape: Ring, row: Row, width: int) -> str:
    if shape.cut:
        for column in (2 * INSET, width - 1 - 2 * INSET - len(CUT) + 1):
            row.write(column, CUT)
    return str(row)


def _sign(shape: Ring, column: int, *, second: bool) -> str:
    """One end at a column: whole up to the meeting point, its tail beyond it, nothing past its tip."""
    at_m, end = shape.on_rope(column, second=second), end_m(shape.plan)
    return sign(shape.sections.tail_left(at_m)) if end is not None and 0 <= at_m <= end else NOTHING


def _cut_words(shape: Ring, width: int) -> Iterator[str]:
    if shape.cut:
        yield from folded(f"The join is to scale; the loop is longer than drawn, cut through at {CUT}.", width)
