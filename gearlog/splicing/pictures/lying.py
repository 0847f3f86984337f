"""The rope as it lies before the splice: to scale from where the distances begin, marks where the tape lies."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.picture.axis import Page, fitted
from gearlog.domain.picture.labels import ALIKE_WORDS, is_imperial, length_of, origin_words, span_names
from gearlog.domain.picture.parts import (
    CORE,
    THROAT,
    end_m,
    has_core,
    is_round_both_legs,
    main_part,
    reach_m,
    shown_spans,
)
from gearlog.domain.picture.sections import Sections, sections_of, strands_left
from gearlog.domain.plan import Plan, Span
from gearlog.splicing.pictures.canvas import Row, Stretch, letter_rows, stretch_rows
from gearlog.splicing.pictures.columns import Columns, Ruler
from gearlog.splicing.pictures.signs import COMES_FROM, CUT, ENDS, GOES_ON, sign, sign_of
from gearlog.units.visible import cells, folded, visible

BEYOND = 4  # columns of rope drawn past the last mark
NARROW = 6  # columns; a stretch narrower than this cannot be named, and the long rope beside it is cut through
KEEP = 4  # columns of rope drawn beside a cut


def lying(plan: Plan, width: int) -> tuple[str, ...]:
    """The rope laid straight, the origin at the left; below it what each stretch becomes."""
    columns = lying_columns(plan, width)
    sections = sections_of(plan)
    letters = [(columns.column(mark.at_m), visible(mark.letter)) for mark in plan.marks]
    return (
        *folded(_title(plan), width),
        *letter_rows(letters, width),
        *_main_rows(plan, columns, sections, width),
        *_core_rows(plan, columns, sections, width),
        *Ruler(columns, _left(plan), width, is_imperial(plan)).rows(),
        *_left_out(plan, columns, width),
        "",
    )


def lying_columns(plan: Plan, width: int) -> Columns:
    """The scale of the rope as it lies: the last mark or stretch ends a few columns from the right edge."""
    left, last = _left(plan), reach_m(plan)
    page = Page(left, width - 1 - left - BEYOND, NARROW, KEEP, len(CUT))
    if last <= 0:
        return Columns.plain(left, 1.0)
    places = [mark.at_m for mark in plan.marks]
    places += [place for span in shown_spans(plan) for place in (span.from_m, span.to_m)]
    return Columns(fitted(places, [span.to_m - span.from_m for span in shown_spans(plan)], page))


def _left(plan: Plan) -> int:
    return max(cells(visible(name)) for name in (main_part(plan), CORE)) + 1


def _title(plan: Plan) -> str:
    origin = origin_words(plan).removeprefix("the ")
    if plan.shape == "join":
        return f"As each of the two ropes lies, its {origin} at the left; the marks hold for both, lengths from there:"
    return f"As it lies, {origin} at the left, lengths from there:"


def _main_rows(plan: Plan, columns: Columns, sections: Sections, width: int) -> Iterator[str]:
    row, end = Row(width), _rope_end(plan, columns, width)
    row.write(0, visible(main_part(plan)))
    for column in range(_left(plan), end):
        row.write(column, _sign_at(plan, columns, sections, column))
    if plan.origin == THROAT:
        row.write(_left(plan) - 1, COMES_FROM)
    row.write(end, GOES_ON if end == width - 1 else ENDS)
    columns.cut_through(row)
    yield from [str(row)] * (2 if is_round_both_legs(plan) else 1)
    yield from stretch_rows(_stretches(plan, columns, core=False), width)


def _rope_end(plan: Plan, columns: Columns, width: int) -> int:
    """The column where the rope ends, or the right edge when it goes on or its length is unknown."""
    length = end_m(plan)
    return width - 1 if length is None else min(columns.column(length), width - 1)


def _sign_at(plan: Plan, columns: Columns, sections: Sections, column: int) -> str:
    for span in plan.spans:
        shown = sign_of(plan, span.kind)
        if shown and columns.column(span.from_m) <= column < columns.column(span.to_m):
            return shown
    at_m = columns.at(column)
    return " " if at_m is None else sign(min(sections.tail_left(at_m), strands_left(plan, columns.edge(at_m))))


def _core_rows(plan: Plan, columns: Columns, sections: Sections, width: int) -> Iterator[str]:
    """The core by itself, where the plan works on it; blank where it is taken out."""
    if not has_core(plan):
        return
    row = Row(width)
    row.write(0, CORE)
    end = _rope_end(plan, columns, width)
    for column in range(_left(plan), end):
        at_m = columns.at(column)
        row.write(column, sign(sections.core_left(at_m)) if at_m is not None else " ")
    row.write(end, GOES_ON if end == width - 1 else ENDS)
    columns.cut_through(row)
    yield str(row)
    yield from stretch_rows(_stretches(plan, columns, core=True), width)


def _stretches(plan: Plan, columns: Columns, *, core: bool) -> list[Stretch]:
    apart = has_core(plan)
    chosen: list[Span] = [span for span in shown_spans(plan) if (apart and span.part == CORE) is core]
    return [Stretch(columns.column(span.from_m), columns.column(span.to_m), *span_names(plan, span)) for span in chosen]


def _left_out(plan: Plan, columns: Columns, width: int) -> Iterator[str]:
    """How much rope is not drawn, in words."""
    lengths = [length_of(plan, length) for length in columns.axis.left_out_m()]
    if lengths:
        order = " from left to right" if len(lengths) > 1 else ""
        where = f"At {CUT} the drawing is cut through, all of it to one scale; left out{order}: "
        yield from folded(f"{where}{', '.join(lengths)}.", width)
    if plan.inputs.both_ends:
        yield ALIKE_WORDS
