"""The fill profile: what lies inside the standing part along a bury, tail and core together.

f = (tail left + core left) / what the braid holds when full. Between cut steps the tail fades along straight lines;
after the last cut it keeps its section to its end.
"""

from __future__ import annotations

import math
from itertools import pairwise

from gearlog.domain.plan import FillPoint, Span

PAIR = 2  # strands leave by pairs, one of each lay


def pairs_leaving(strands: int, left: float) -> int:
    """How many pairs leave; what stays is rounded up to whole pairs, at least one pair."""
    stay = max(PAIR, PAIR * math.ceil(left / PAIR))
    return max(0, (strands - stay) // PAIR)


def tail_fractions(taper_m: float, strands: int, left: float) -> list[tuple[float, float]]:
    """(distance from the taper's beginning in m, fraction of the tail left), up to the tail's end."""
    if strands < 2 * PAIR or strands % PAIR:
        return [(0.0, 1.0), (taper_m, 1.0)]
    pairs = pairs_leaving(strands, left)
    cuts = [(taper_m * index / (pairs + 1), 1 - PAIR * index / strands) for index in range(1, pairs + 1)]
    return [(0.0, 1.0), *cuts, (taper_m, 1 - PAIR * pairs / strands)]


def fill_of(spans: tuple[Span, ...], strands: int, left: float) -> tuple[FillPoint, ...]:
    """The profile over the first bury from its throat to the tail's end, and after it."""
    bury, taper = _first(spans, "bury"), _first(spans, "taper")
    if bury is None or taper is None:
        return ()
    fading = tail_fractions(taper.to_m - taper.from_m, strands, left)
    tail = [(bury.from_m, 1.0), *((bury.to_m - (fading[-1][0] - at), over) for at, over in fading)]
    core = _first(spans, "core-taper")
    points = [FillPoint(at_m=at, fraction=fraction + _core(core, at)) for at, fraction in tail]
    after = 1.0 if core else 0.0
    return (*points, FillPoint(at_m=bury.to_m, fraction=after))


def least_inside(fill: tuple[FillPoint, ...], spans: tuple[Span, ...]) -> float:
    """The least that lies inside anywhere, also where the core's taper begins or ends between two points."""
    core = _first(spans, "core-taper")
    tail = [(point.at_m, point.fraction - _core(core, point.at_m)) for point in fill[:-1]]
    ends = (core.from_m, core.to_m) if core else ()
    between = [_between(tail, at) + _core(core, at) for at in ends if tail[0][0] < at < tail[-1][0]]
    return min([point.fraction for point in fill] + between)


def _between(tail: list[tuple[float, float]], at_m: float) -> float:
    """The part of the tail at a place between two of its points, along the straight line."""
    (start, before), (end, after) = next(two for two in pairwise(tail) if two[0][0] < at_m <= two[1][0])
    return before + (after - before) * (at_m - start) / (end - start)


def largest_jump(fill: tuple[FillPoint, ...]) -> float:
    """The largest change of the profile at one place."""
    jumps = [abs(after.fraction - before.fraction) for before, after in pairwise(fill) if after.at_m == before.at_m]
    return max(jumps, default=0.0)


def _first(spans: tuple[Span, ...], kind: str) -> Span | None:
    return next((span for span in spans if span.kind == kind), None)


def _core(core: Span | None, at_m: float) -> float:
    """The part of the core that is left: it fades in along its taper."""
    if core is None or at_m <= core.from_m:
        return 0.0
    return min(1.0, (at_m - core.from_m) / (core.to_m - core.from_m))
