"""The outline of a rope whose thickness changes along it: whole, thinned by cuts, tapered in a line, or not there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from gearlog.domain.picture.axis import Axis
from gearlog.reports.card.vector.figure import Part, Point, Stroke

NEAR = 1e-6  # mm; how far beside a place the thickness on either side is read


def outlined(
    axis: Axis,
    sides: tuple[float, float],
    edges: tuple[float, float],
    thickness: Callable[[float], float],
    changes: Sequence[float],
) -> list[Part]:
    """The outlines of all stretches that are there.

    Attributes:
        sides: from where to where on the sheet (mm); ``edges`` the upper and lower edge of a whole rope.
        thickness: the share that is left at a distance (m).
        changes: distances where it may change (m).
    """
    top, bottom = edges
    middle, half = (top + bottom) / 2, (bottom - top) / 2
    places = sorted({*sides, *(x for x in map(axis.place, changes) if sides[0] < x < sides[1])})
    upper: list[list[Point]] = [[]]
    for start, stop in pairwise(places):
        ends = [_share(axis, place, thickness) for place in (start + NEAR, stop - NEAR)]
        if max(ends) <= 0:
            upper.append([])
            continue
        upper[-1] += [(start, middle - half * ends[0]), (stop, middle - half * ends[1])]
    return [_closed(points, middle) for points in upper if points]


def _share(axis: Axis, place: float, thickness: Callable[[float], float]) -> float:
    at_m = axis.at(place)
    return 1.0 if at_m is None else thickness(at_m)


def _closed(upper: list[Point], middle: float) -> Stroke:
    """The upper edge and its mirror image as one outline."""
    lower = [(x, 2 * middle - y) for x, y in reversed(upper)]
    return Stroke((*upper, *lower), closed=True)
