"""One step's part of the picture: the whole rope to scale, but only the marks and stretches that the step touches."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from gearlog.domain.picture.labels import span_names
from gearlog.domain.picture.parts import CORE, has_core, main_part, shown_spans
from gearlog.domain.picture.sections import sections_of, strands_left
from gearlog.domain.plan import Mark, Plan, Span
from gearlog.splicing.pictures.canvas import Row, Stretch, letter_rows, stretch_rows
from gearlog.splicing.pictures.columns import Columns
from gearlog.splicing.pictures.lying import lying_columns
from gearlog.splicing.pictures.signs import GOES_ON, sign, sign_of
from gearlog.units.visible import cells, visible

NEAR_M = 1e-6  # two places nearer than a micrometre are one


def touched(plan: Plan, marks: Collection[str], width: int) -> tuple[str, ...]:
    """The rope as it lies, never wider than ``width``; nothing for a step that touches no mark."""
    chosen = [mark for mark in plan.marks if mark.id in marks]
    if not chosen:
        return ()
    columns = lying_columns(plan, width)
    letters = letter_rows([(columns.column(mark.at_m), visible(mark.letter)) for mark in chosen], width)
    spans = touched_spans(plan, chosen)
    rows = [*letters, *_part_rows(plan, columns, [span for span in spans if not _of_core(plan, span)], width)]
    cored = [span for span in spans if _of_core(plan, span)]
    return (*rows, *(_core_rows(plan, columns, cored, width) if cored else ()))


def touched_spans(plan: Plan, marks: Collection[Mark]) -> tuple[Span, ...]:
    """The stretches between the step's marks, or from one of them to the rope's end; else those that meet one."""
    places = [0.0, *(mark.at_m for mark in marks)]
    held = [(span, _is_at(span.from_m, places), _is_at(span.to_m, places)) for span in shown_spans(plan)]
    between = tuple(span for span, begins, ends in held if begins and ends)
    own = tuple(span for span, begins, ends in held if (begins and span.from_m > 0) or ends)
    return between or own


def _is_at(at_m: float, places: Collection[float]) -> bool:
    return any(abs(at_m - place) < NEAR_M for place in places)


def _of_core(plan: Plan, span: Span) -> bool:
    return has_core(plan) and span.part == CORE


def _part_rows(plan: Plan, columns: Columns, spans: Collection[Span], width: int) -> Iterator[str]:
    sections, row = sections_of(plan), Row(width)
    row.write(0, visible(main_part(plan)))
    for column in range(_left(plan), width - 1):
        at_m = columns.at(column)
        if at_m is not None:
            own = _own_sign(plan, columns, spans, column)
            row.write(column, own or sign(min(sections.tail_left(at_m), strands_left(plan, at_m))))
    yield from _closed(row, columns, width)
    yield from stretch_rows(_stretches(plan, columns, spans), width)


def _own_sign(plan: Plan, columns: Columns, spans: Collection[Span], column: int) -> str | None:
    """The sign of the touched stretch that lies at a column, where it has one of its own."""
    here = (span for span in spans if columns.column(span.from_m) <= column < columns.column(span.to_m))
    return next((shown for span in here if (shown := sign_of(plan, span.kind))), None)


def _core_rows(plan: Plan, columns: Columns, spans: Collection[Span], width: int) -> Iterator[str]:
    sections, row = sections_of(plan), Row(width)
    row.write(0, CORE)
    for column in range(_left(plan), width - 1):
        at_m = columns.at(column)
        row.write(column, sign(sections.core_left(at_m)) if at_m is not None else " ")
    yield from _closed(row, columns, width)
    yield from stretch_rows(_stretches(plan, columns, spans), width)


def _closed(row: Row, columns: Columns, width: int) -> Iterator[str]:
    row.write(width - 1, GOES_ON)
    columns.cut_through(row)
    yield str(row)


def _stretches(plan: Plan, columns: Columns, spans: Collection[Span]) -> list[Stretch]:
    return [Stretch(columns.column(span.from_m), columns.column(span.to_m), *span_names(plan, span)) for span in spans]


def _left(plan: Plan) -> int:
    return max(cells(visible(name)) for name in (main_part(plan), CORE)) + 1
