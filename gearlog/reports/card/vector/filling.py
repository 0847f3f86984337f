"""The fill profile as a small graph: what lies inside the standing part, from where the tail goes in."""

from __future__ import annotations

from gearlog.domain.picture.axis import Axis, Piece
from gearlog.domain.picture.labels import is_imperial
from gearlog.domain.picture.parts import span_of
from gearlog.domain.plan import Plan
from gearlog.reports.card.vector.figure import HEAVY, SMALL, THIN, Figure, Part, Stroke, Words, line, moved
from gearlog.reports.card.vector.layout import ROW, ruler

LEFT, RIGHT = 14.0, 6.0  # mm
PER_WHOLE = 9.0  # mm; the height of a whole tail
LEVELS = (0.0, 0.5, 1.0)


def filling(plan: Plan, width: float) -> Figure | None:
    """The graph; None for a plan without a profile."""
    if not plan.fill or plan.fill[-1].at_m <= plan.fill[0].at_m:
        return None
    zero, end = plan.fill[0].at_m, plan.fill[-1].at_m
    axis = Axis((end - zero) / (width - LEFT - RIGHT), (Piece(0.0, 0.0, LEFT),))
    top = ROW + PER_WHOLE * max(1.0, *(point.fraction for point in plan.fill)) + SMALL / 2
    levels: list[Part] = []
    for level in LEVELS:
        y = top - level * PER_WHOLE
        levels += [
            line(LEFT, y, width - RIGHT, y, THIN),
            Words(LEFT - 1.0, y + SMALL / 3, f"{level:.0%}", SMALL, "end"),
        ]
    curve = tuple((axis.place(point.at_m - zero), top - point.fraction * PER_WHOLE) for point in plan.fill)
    measure = ruler(axis, LEFT, width - RIGHT, imperial=is_imperial(plan), edge=RIGHT)
    whole = "a whole tail or a whole core" if span_of(plan, "core-taper") else "a whole tail"
    title = f"Filling of the rope from where the tail goes in; 100 % is {whole}"
    parts = (
        Words(0.0, SMALL, title, SMALL, bold=True),
        *levels,
        Stroke(curve, HEAVY),
        *moved(measure.parts, top + 1.0),
    )
    return Figure(width, top + 1.0 + measure.height, parts)
