"""A rope fitted on a page: all details to one scale, long plain stretches cut through and left out.

Places on the page are in the page's own units: columns of a terminal, points or millimetres of a sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

MOST_CUTS = 3  # a picture with more gaps than this is no longer one rope to look at
WORTH_CUTTING = 0.3  # share of what is drawn; a shorter gap gains too little


@dataclass(frozen=True, slots=True)
class Page:
    """The room for a rope, in the page's units.

    Attributes:
        left: where distance zero lies.
        room: from there to where the last detail may lie.
        narrow: a stretch narrower than this cannot be read, and calls for a cut.
        keep: rope that is still drawn beside a cut; ``sign`` is the room for the sign of the cut.
    """

    left: float
    room: float
    narrow: float
    keep: float
    sign: float

    @property
    def cut(self) -> float:
        """What one cut takes on the page."""
        return 2 * self.keep + self.sign


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of rope that is drawn: from, to (m), and where it begins on the page."""

    from_m: float
    to_m: float
    start: float


@dataclass(frozen=True, slots=True)
class Axis:
    """Where a distance lies on the page: ``step_m`` metres to one of its units, in pieces from left to right."""

    step_m: float
    pieces: tuple[Piece, ...]

    def place(self, at_m: float) -> float:
        """Where a distance lies; beyond the ends the first and last piece go on, in a cut it is the cut's edge."""
        piece = next((one for one in self.pieces if at_m <= one.to_m), self.pieces[-1])
        within = at_m if piece is self.pieces[0] else max(at_m, piece.from_m)
        return piece.start + (within - piece.from_m) / self.step_m

    def at(self, place: float) -> float | None:
        """The distance at a place on the page (m); None in a cut."""
        for number, piece in enumerate(self.pieces):
            first, last = number == 0, number == len(self.pieces) - 1
            at_m = piece.from_m + (place - piece.start) * self.step_m
            if (first or place >= piece.start) and (last or at_m <= piece.to_m):
                return at_m
        return None

    def cuts(self) -> tuple[tuple[float, float], ...]:
        """Where each cut begins and ends on the page."""
        ends = [piece.start + (piece.to_m - piece.from_m) / self.step_m for piece in self.pieces]
        return tuple((end, after.start) for end, after in zip(ends, self.pieces[1:], strict=False))

    def left_out_m(self) -> tuple[float, ...]:
        """How much rope each cut leaves out."""
        return tuple(after.from_m - before.to_m for before, after in pairwise(self.pieces))


def fitted(places: Sequence[float], stretches: Sequence[float], page: Page) -> Axis:
    """The largest scale that shows all ``places`` (m); cut only where a stretch would be too narrow to read."""
    points = sorted({0.0, *places})
    gaps = sorted(((after - before, before, after) for before, after in pairwise(points)), reverse=True)
    shortest = min((length for length in stretches if length > 0), default=points[-1])
    cut: list[tuple[float, float, float]] = []
    for gap in gaps[:MOST_CUTS]:
        step = _step(points[-1], cut, page)
        left = points[-1] - sum(length for length, _, _ in cut)
        if shortest >= page.narrow * step or gap[0] < WORTH_CUTTING * left or gap[0] <= 2 * page.cut * step:
            break
        cut.append(gap)
    return _axis(points[-1], cut, page)


def _step(total_m: float, cut: Sequence[tuple[float, float, float]], page: Page) -> float:
    """Metres to one unit of the page; 1 where all places are one."""
    left = total_m - sum(length for length, _, _ in cut)
    return max(left, 0.0) / (page.room - len(cut) * page.cut) or 1.0


def _axis(total_m: float, cut: Sequence[tuple[float, float, float]], page: Page) -> Axis:
    step = _step(total_m, cut, page)
    pieces: list[Piece] = []
    begins, start = 0.0, page.left
    for _, before, after in sorted(cut, key=lambda gap: gap[1]):
        ends = before + page.keep * step
        pieces.append(Piece(begins, ends, start))
        start += (ends - begins) / step + page.sign
        begins = after - page.keep * step
    pieces.append(Piece(begins, max(total_m, begins), start))
    return Axis(step, tuple(pieces))
