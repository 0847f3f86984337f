"""A line with a loop at both ends: cords, slings with a fixed eye. The line is to scale, the loops are not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from gearlog.domain.picture.axis import Page, fitted
from gearlog.domain.picture.labels import length_of
from gearlog.domain.picture.parts import spans_of
from gearlog.domain.picture.sections import Sections, sections_of
from gearlog.domain.plan import Plan, Span
from gearlog.splicing.pictures.canvas import Row, Stretch, letter_rows, stretch_rows
from gearlog.splicing.pictures.columns import Columns
from gearlog.splicing.pictures.lying import KEEP, NARROW
from gearlog.splicing.pictures.signs import CUT, NOTHING, WHOLE, sign
from gearlog.units.visible import folded, visible

LOOP = 13  # columns of a loop that is only a sign of one
EDGE = "-"
FIXED_SLING = (2, 2)  # eyes and buries of an adjustable sling with a fixed eye
SAME = 1e-9  # m

Inside = tuple[float, float, str]  # from, to (m from the left throat), sign; an empty sign is the tail's own


@dataclass(frozen=True, slots=True)
class Line:
    """What is drawn: distances run from the left throat to the right one.

    Attributes:
        left: words in the left loop, a row each; ``right`` those in the right one.
        long_m: from throat to throat.
        inside: what lies inside the line.
        outside: a tail that stands out: from, to, name; None where there is none.
        letters: place and letter of each mark on the line.
        bars: named stretches.
    """

    plan: Plan
    left: tuple[str, str]
    right: tuple[str, str]
    long_m: float
    inside: tuple[Inside, ...]
    letters: tuple[tuple[float, str], ...]
    bars: tuple[tuple[float, float, str], ...]
    outside: tuple[float, float, str] | None = None
    sections: Sections = field(kw_only=True)
    tail_at: float = 0.0


def two_loops(plan: Plan, width: int) -> tuple[str, ...]:
    """The finished cord or sling; nothing where the plan's stretches are not of a kind that is known here."""
    line = _line(plan)
    if line is None or plan.finished is None or line.long_m <= 0:
        return ()
    columns = _columns(line, width)
    words = f"Finished, {length_of(plan, plan.finished.finished_m)} {visible(plan.finished.what)};"
    bars = [Stretch(columns.column(start), columns.column(stop), name, name.split(" ")[0])
            for start, stop, name in line.bars]  # fmt: skip
    return (
        *folded(f"{words} the line is to scale, the loops are not:", width),
        *letter_rows([(columns.column(at), letter) for at, letter in line.letters], width),
        *_rows(line, columns, width),
        *stretch_rows(bars, width),
        *_left_out(line, columns, width),
        "",
    )


def _left_out(line: Line, columns: Columns, width: int) -> Iterator[str]:
    lengths = ", ".join(length_of(line.plan, length) for length in columns.axis.left_out_m())
    if lengths:
        yield from folded(f"Left out at {CUT}: {lengths}.", width)


def _columns(line: Line, width: int) -> Columns:
    page = Page(LOOP, width - 1 - 2 * LOOP, NARROW, KEEP, len(CUT))
    places = [place for start, stop, _ in (*line.inside, *line.bars) for place in (start, stop)]
    places += [line.outside[1]] if line.outside else []
    stretches = [stop - start for start, stop, _ in line.inside]
    return Columns(fitted([*places, line.long_m], stretches, page))


def _rows(line: Line, columns: Columns, width: int) -> Iterator[str]:
    right = width - 1
    cap = EDGE * (LOOP - 5)
    if line.outside:
        start, stop, name = line.outside
        row = Row(width)
        first = columns.column(start)
        row.write(first, WHOLE * max(columns.column(stop) - first, 1) + f"| {name}")
        yield str(row)
    yield _ends(width, f"  .{cap}.", f".{cap}.  ")
    yield _side(columns, width, (f" /{' ' * (LOOP - 3)}\\", f"/{' ' * (LOOP - 3)}\\ "))
    for number, (left, after) in enumerate(zip(line.left, line.right, strict=True)):
        row = Row(width)
        row.write(0, f"|  {left}"[:LOOP])
        row.write(right - LOOP + 3, after[: LOOP - 3])
        row.write(right, "|")
        if not number:
            _fill(line, columns, row, width)
        yield str(row)
    yield _side(columns, width, (f" \\{' ' * (LOOP - 3)}/", f"\\{' ' * (LOOP - 3)}/ "))
    yield _ends(width, f"  '{cap}'", f"'{cap}'  ")


def _ends(width: int, left: str, right: str) -> str:
    row = Row(width)
    row.write(0, left)
    row.write(width - len(right), right)
    return str(row)


def _side(columns: Columns, width: int, ends: tuple[str, str]) -> str:
    row = Row(width)
    row.write(LOOP, EDGE * (width - 2 * LOOP))
    columns.cut_through(row)
    row.write(0, ends[0])
    row.write(width - len(ends[1]), ends[1])
    return str(row)


def _fill(line: Line, columns: Columns, row: Row, width: int) -> None:
    for column in range(LOOP, width - LOOP):
        at_m = columns.at(column)
        shown = next((one for one in line.inside if at_m is not None and one[0] <= at_m <= one[1]), None)
        if shown is not None and at_m is not None:
            row.write(column, shown[2] or sign(line.sections.tail_left(line.tail_at + (line.long_m - at_m))))
        else:
            row.write(column, NOTHING)
    columns.cut_through(row)


def _line(plan: Plan) -> Line | None:
    eyes, buries = spans_of(plan, "eye"), spans_of(plan, "bury")
    if plan.shape == "cord" and len(eyes) == FIXED_SLING[0]:
        return _cord(plan, eyes[0], eyes[1])
    if (len(eyes), len(buries)) == FIXED_SLING:
        return _fixed(plan, (eyes[0], eyes[1]), (buries[0], buries[1]))
    return None


def _letters_at(plan: Plan, at_m: float) -> list[str]:
    return [visible(mark.letter) for mark in plan.marks if abs(mark.at_m - at_m) < SAME]


def _cord(plan: Plan, first: Span, second: Span) -> Line:
    """Two eyes; the marks of each meet at its throat."""
    long = second.from_m - first.to_m
    there = [(0.0, letter) for at in (first.from_m, first.to_m) for letter in _letters_at(plan, at)]
    there += [(long, letter) for at in (second.from_m, second.to_m) for letter in _letters_at(plan, at)]
    return Line(
        plan,
        ("eye", length_of(plan, (first.to_m - first.from_m) / 2)),
        ("eye", length_of(plan, (second.to_m - second.from_m) / 2)),
        long,
        ((0.0, long, WHOLE),),
        tuple(there),
        ((0.0, long, f"throat to throat {length_of(plan, long)}"),),
        sections=sections_of(plan),
    )


def _fixed(plan: Plan, eyes: tuple[Span, Span], buries: tuple[Span, Span]) -> Line | None:
    """From the loop's throat: the channel, where the free tail comes out, clear rope, the fixed eye's bury.

    None where these lie over one another.
    """
    loop, eye = eyes
    channel, bury = buries
    if bury.from_m < channel.to_m:
        return None
    zero, long = channel.from_m, eye.from_m - channel.from_m
    out, tail = channel.to_m - zero, loop.from_m - (channel.to_m - channel.from_m)
    letters = [(mark.at_m - zero, visible(mark.letter)) for mark in plan.marks if zero <= mark.at_m <= eye.from_m]
    letters += [(long - (mark.at_m - eye.to_m), visible(mark.letter)) for mark in plan.marks if mark.at_m >= eye.to_m]
    letters += [(out + tail - mark.at_m, visible(mark.letter)) for mark in plan.marks if mark.at_m <= tail]
    return Line(
        plan,
        ("loop", length_of(plan, (loop.to_m - loop.from_m) / 2)),
        ("fixed eye", length_of(plan, (eye.to_m - eye.from_m) / 2)),
        long,
        ((0.0, out, WHOLE), (bury.from_m - zero, long, "")),
        tuple(letters),
        (
            (0.0, out, f"channel {length_of(plan, out)}"),
            (bury.from_m - zero, long, f"bury {length_of(plan, bury.to_m - bury.from_m)}"),
        ),
        (out, out + tail, f"free tail {length_of(plan, tail)}"),
        sections=sections_of(plan),
        tail_at=eye.to_m,
    )
