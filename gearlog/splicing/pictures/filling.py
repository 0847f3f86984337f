"""The fill profile as a picture: heights over the standing part from the throat, and the steps in words."""

from __future__ import annotations

import math
from collections.abc import Iterator

from gearlog.domain.picture.labels import is_imperial, length_of
from gearlog.domain.picture.parts import span_of
from gearlog.domain.plan import FillPoint, Plan
from gearlog.splicing.pictures.canvas import Row, listed
from gearlog.splicing.pictures.columns import Columns, Ruler
from gearlog.splicing.pictures.lying import BEYOND
from gearlog.splicing.pictures.signs import WHOLE
from gearlog.units.visible import folded

LEVEL = 0.125  # of a whole tail: the height of one row
NAMED_LEVELS = (0.25, 0.5, 0.75, 1.0)
LEFT = 6  # columns for the names of the levels
LEAST_TOP = 1.0


def filling(plan: Plan, width: int) -> tuple[str, ...]:
    """The profile, never wider than ``width``; nothing without one."""
    if not plan.fill or plan.fill[-1].at_m <= plan.fill[0].at_m:
        return ()
    zero, end = plan.fill[0].at_m, plan.fill[-1].at_m
    columns = Columns.plain(LEFT, (end - zero) / (width - 1 - LEFT - BEYOND))
    whole = "a whole tail or a whole core" if span_of(plan, "core-taper") else "a whole tail"
    return (
        *folded(f"Filling of the rope from where the tail goes in; 100 % is {whole}:", width),
        *_heights(plan, columns, width),
        *Ruler(columns, LEFT, width, is_imperial(plan)).rows(),
        *listed("", _steps(plan), width),
        "",
    )


def fill_at(fill: tuple[FillPoint, ...], at_m: float) -> float:
    """The profile at a place: a straight line between two points, the later one's where two share a place."""
    after = next((number for number, point in enumerate(fill) if point.at_m > at_m), None)
    if after is None:
        return fill[-1].fraction
    if after == 0:
        return fill[0].fraction
    start, stop = fill[after - 1], fill[after]
    share = (at_m - start.at_m) / (stop.at_m - start.at_m)
    return start.fraction + share * (stop.fraction - start.fraction)


def _heights(plan: Plan, columns: Columns, width: int) -> Iterator[str]:
    top = max(LEAST_TOP, *(point.fraction for point in plan.fill))
    for number in range(math.ceil(top / LEVEL - LEVEL), 0, -1):
        level, row = number * LEVEL, Row(width)
        row.write(0, f"{level:>4.0%}"[:-1].rjust(3) + " %" if level in NAMED_LEVELS else "")
        for column in range(LEFT, width):
            at_m = plan.fill[0].at_m + (columns.at(column) or 0.0)
            if fill_at(plan.fill, at_m) > level - LEVEL / 2:
                row.write(column, WHOLE)
        yield str(row)


def _steps(plan: Plan) -> Iterator[str]:
    """Each change in words; places where nothing changes are passed over."""
    before: float | None = None
    for point in plan.fill:
        if before is None or abs(point.fraction - before) > LEVEL / 100:
            where = length_of(plan, point.at_m - plan.fill[0].at_m)
            yield f"{point.fraction:.0%} at {where}".replace("%", " %")
        before = point.fraction
