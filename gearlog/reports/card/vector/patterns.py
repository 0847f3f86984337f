"""Patterns of a band of rope: what a stretch becomes is told by lines, so that it holds in black and white."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from gearlog.domain.picture.parts import PASSES, TAPERED_TUCKS, count_of, is_exchange
from gearlog.domain.plan import Plan
from gearlog.reports.card.vector.figure import THIN, Part, Stroke, box, line

APART = 1.6  # mm between the lines of a pattern
LEAST_TURN = 0.5  # mm; turns closer than this would run together
STRANDS = 3
DASH = (1.2, 0.8)
SWATCH_WORDS = {
    "eye": "becomes the eye",
    "unlay": "strands opened",
    "tucks": "tucked",
    "bury": "a tail lies inside",
    "exchanged": "one strand exchanged",
    "turns": "turns of twine",
    "stitches": "stitched",
}


@dataclass(frozen=True, slots=True)
class Band:
    """A rectangle of rope on the sheet (mm)."""

    left: float
    top: float
    right: float
    bottom: float


def pattern_of(plan: Plan, kind: str) -> str:
    """The name of the pattern that a stretch is drawn with; empty for none."""
    if kind == "whip":
        return "stitches" if count_of(plan, PASSES) else "turns"
    if kind in {"tucks", TAPERED_TUCKS}:
        return "exchanged" if is_exchange(plan) else "tucks"
    return kind if kind in {"eye", "unlay", "bury"} else ""


def drawn(pattern: str, band: Band, lines: int = 0) -> Iterator[Part]:
    """The pattern in its band; ``lines`` is how many turns there are, where that is known."""
    if pattern == "turns":
        yield from _turns(band, lines)
    elif pattern in PATTERNS:
        yield from PATTERNS[pattern](band)


def swatch(pattern: str, band: Band) -> Iterator[Part]:
    """A small piece of the pattern for the explanation under the drawing."""
    yield box(band.left, band.top, band.right, band.bottom, THIN)
    yield from drawn(pattern, band)


def _slanted(band: Band, *, rising: bool) -> Iterator[Part]:
    """Lines at 45 degrees, cut off at the band's edges."""
    high, start = band.bottom - band.top, band.left - (band.bottom - band.top)
    while start < band.right:
        first, last = max(start, band.left), min(start + high, band.right)
        if last > first:
            y1, y2 = band.bottom - (first - start), band.bottom - (last - start)
            if not rising:
                y1, y2 = band.top + (first - start), band.top + (last - start)
            yield line(first, y1, last, y2, THIN)
        start += APART


def _crossed(band: Band) -> Iterator[Part]:
    yield from _slanted(band, rising=True)
    yield from _slanted(band, rising=False)


def _rising(band: Band) -> Iterator[Part]:
    return _slanted(band, rising=True)


def _falling(band: Band) -> Iterator[Part]:
    return _slanted(band, rising=False)


def _strands(band: Band) -> Iterator[Part]:
    for number in range(1, STRANDS):
        y = band.top + (band.bottom - band.top) * number / STRANDS
        yield line(band.left, y, band.right, y, THIN)


def _hollow(band: Band) -> Iterator[Part]:
    """Two dashed lines: what will lie inside."""
    for share in (0.3, 0.7):
        y = band.top + (band.bottom - band.top) * share
        yield Stroke(((band.left, y), (band.right, y)), THIN, DASH)


def _turns(band: Band, lines: int) -> Iterator[Part]:
    """Turns of twine; one line each as long as they can be told apart."""
    room = int((band.right - band.left) / LEAST_TURN)
    count = max(min(lines or room, room), 1)
    for number in range(count + 1):
        x = band.left + (band.right - band.left) * number / count
        yield line(x, band.top, x, band.bottom, THIN)


def _zigzag(band: Band) -> Iterator[Part]:
    count = max(round((band.right - band.left) / (band.bottom - band.top)), 1)
    step = (band.right - band.left) / count
    points = [(band.left + number * step, band.bottom if number % 2 else band.top) for number in range(count + 1)]
    yield from (line(x1, y1, x2, y2) for (x1, y1), (x2, y2) in pairwise(points))


PATTERNS: dict[str, Callable[[Band], Iterator[Part]]] = {
    "eye": _rising,
    "exchanged": _falling,
    "tucks": _crossed,
    "unlay": _strands,
    "bury": _hollow,
    "stitches": _zigzag,
    "turns": lambda band: _turns(band, 0),
}
