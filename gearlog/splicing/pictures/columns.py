"""Distances along the rope as columns of the page, and a ruler under them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from gearlog.domain.picture.axis import Axis, Piece
from gearlog.splicing.pictures.canvas import Row
from gearlog.splicing.pictures.signs import CUT

MILLIMETRE = 0.001  # m
INCH = 0.0254  # m, exact by definition
METRIC_STEPS = (1, 2, 5)  # times a power of ten: what a metric tape is read in
INCH_STEPS = (0.25, 0.5, 1, 2, 6, 12, 24, 60, 120, 240, 600, 1200)  # what an inch tape is read in
POWERS = range(-2, 7)  # of ten, mm: from 0.01 mm to 5 km
LABEL_GAP = 2  # columns between two numbers of the ruler
HALF = 0.5  # of a column: a place belongs to the column whose middle is nearest


@dataclass(frozen=True, slots=True)
class Columns:
    """An axis whose page is the columns of a terminal; a distance belongs to the nearest one."""

    axis: Axis

    @classmethod
    def plain(cls, left: int, step_m: float) -> Columns:
        """One scale without cuts, distance zero on column ``left``; distances may be negative."""
        return cls(Axis(step_m, (Piece(0.0, 0.0, left),)))

    def column(self, at_m: float) -> int:
        """The column whose middle is nearest to ``at_m``."""
        return math.floor(self.axis.place(at_m) + HALF)

    def at(self, column: int) -> float | None:
        """The distance at the middle of ``column`` (m), or None in a cut."""
        return self.axis.at(column)

    def edge(self, at_m: float) -> float:
        """The far edge of a column whose middle lies at ``at_m``: what begins within the column begins in it."""
        return at_m + self.axis.step_m * HALF

    def cut_through(self, row: Row) -> None:
        """Draw the signs of the cuts across a row."""
        for start, stop in self.axis.cuts():
            first = math.floor((start + stop - len(CUT)) / 2 + HALF)
            row.write(first - 1, f" {CUT} ")
            row.write(first, CUT)


@dataclass(frozen=True, slots=True)
class Ruler:
    """A ruler under a picture, from column ``first`` up to ``stop``, in mm or inches."""

    columns: Columns
    first: int
    stop: int
    imperial: bool

    def rows(self) -> tuple[str, str]:
        """The ruler and the numbers below it."""
        line, numbers = Row(self.stop), Row(self.stop)
        for column in range(self.first, self.stop):
            line.write(column, "-" if self.columns.at(column) is not None else " ")
        for tick, column in self._ticks():
            line.write(column, "|")
            label = f"{abs(tick):.12g}" if tick else f"0 {'in' if self.imperial else 'mm'}"
            if column + len(label) <= self.stop and numbers.free(column - 1, column + len(label) + 1):
                numbers.write(column, label)
        return str(line), str(numbers)

    @property
    def _unit(self) -> float:
        return INCH if self.imperial else MILLIMETRE

    def _ticks(self) -> list[tuple[float, int]]:
        """Round distances and their columns, nought first so that its number has its place."""
        step = self._step()
        shown = [at for column in range(self.first, self.stop) if (at := self.columns.at(column)) is not None]
        counts = range(math.ceil(min(shown) / step / self._unit - HALF), int(max(shown) / step / self._unit) + 1)
        places = [(count * step, self.columns.column(count * step * self._unit)) for count in counts]
        kept = [(tick, column) for tick, column in places if self._is_there(tick * self._unit, column)]
        return sorted(kept, key=lambda place: (place[0] != 0, place[0]))

    def _is_there(self, at_m: float, column: int) -> bool:
        """Whether the distance itself is drawn, not only the edge of a cut nearest to it."""
        there = self.columns.at(column)
        near = there is not None and abs(there - at_m) <= self.columns.axis.step_m
        return near and self.first <= column < self.stop

    def _step(self) -> float:
        """The smallest round step whose numbers do not touch."""
        step_m = self.columns.axis.step_m
        farthest = max(abs(self.columns.at(column) or 0.0) for column in (self.first, self.stop - 1))
        longest = len(f"{farthest / self._unit:.0f}") + LABEL_GAP + len(".5 mm")
        steps = INCH_STEPS if self.imperial else [part * 10.0**power for power in POWERS for part in METRIC_STEPS]
        return next((step for step in steps if step * self._unit / step_m >= longest), steps[-1])
