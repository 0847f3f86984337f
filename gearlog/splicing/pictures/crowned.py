"""A back splice finished: the crown at the rope's end, the strands tucked back into the rope, to scale from there."""

from __future__ import annotations

from gearlog.domain.picture.labels import is_imperial, span_names
from gearlog.domain.picture.parts import TAPERED_TUCKS, reach_m, spans_of
from gearlog.domain.picture.sections import strands_left
from gearlog.domain.plan import Plan, Span
from gearlog.splicing.pictures.canvas import Row, Stretch, letter_rows, stretch_rows
from gearlog.splicing.pictures.columns import Columns, Ruler
from gearlog.splicing.pictures.lying import BEYOND
from gearlog.splicing.pictures.signs import GOES_ON, TUCKS, sign
from gearlog.units.visible import cells, visible

CROWN = "("


def crowned(plan: Plan, width: int) -> tuple[str, ...]:
    """The finished end; nothing for a plan whose strands are not opened and tucked back."""
    opened, tucks = spans_of(plan, "unlay"), spans_of(plan, "tucks")
    if not opened or not tucks or reach_m(plan) <= opened[0].to_m:
        return ()
    crown, name = opened[0].to_m, visible(tucks[0].part)
    left = cells(name) + 2
    columns = Columns.plain(left, (reach_m(plan) - crown) / (width - 1 - left - BEYOND))
    marks = [(columns.column(mark.at_m - crown), visible(mark.letter)) for mark in plan.marks if mark.at_m >= crown]
    spans = [*tucks, *spans_of(plan, TAPERED_TUCKS)]
    bars = [
        Stretch(columns.column(span.from_m - crown), columns.column(span.to_m - crown), *span_names(plan, span))
        for span in spans
    ]
    return (
        "Finished, crown at the left; lengths from there:",
        *letter_rows(marks, width),
        _rope(plan, columns, tucks[0], width),
        *stretch_rows(bars, width),
        *Ruler(columns, left, width, is_imperial(plan)).rows(),
        "",
    )


def _rope(plan: Plan, columns: Columns, tucks: Span, width: int) -> str:
    row, left = Row(width), columns.column(0.0)
    row.write(0, visible(tucks.part))
    row.write(left - 1, CROWN)
    for column in range(left, width - 1):
        at_m = tucks.from_m + (columns.at(column) or 0.0)
        row.write(column, TUCKS if columns.edge(at_m) <= tucks.to_m else sign(strands_left(plan, columns.edge(at_m))))
    row.write(width - 1, GOES_ON)
    return str(row)
