"""Rows of plain characters to scale: letters over a line, stretches under it, a ruler."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

MILLIMETRE = 0.001  # m
INCH = 0.0254  # m, exact by definition
METRIC_STEPS = (1, 2, 5)  # times a power of ten: what a metric tape is read in
INCH_STEPS = (0.25, 0.5, 1, 2, 6, 12, 24, 60, 120, 240, 600, 1200)  # what an inch tape is read in
POWERS = range(-2, 7)  # of ten, mm: from 0.01 mm to 5 km
LABEL_GAP = 2  # columns between two numbers of the ruler


@dataclass(frozen=True, slots=True)
class Scale:
    """Where a distance lies on the page.

    Attributes:
        left: column of distance zero.
        step_m: metres that one column stands for.
    """

    left: int
    step_m: float

    def column(self, at_m: float) -> int:
        """The column whose middle is nearest to ``at_m``."""
        return self.left + round(at_m / self.step_m)

    def at(self, column: int) -> float:
        """The distance at the middle of ``column`` (m)."""
        return (column - self.left) * self.step_m


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of the line from one column to another, with a long name and a short one."""

    start: int
    stop: int
    name: str
    short: str


class Row:
    """One line of characters that is written here and there."""

    def __init__(self, width: int) -> None:
        self._signs = [" "] * width

    def write(self, column: int, text: str) -> None:
        """Put ``text`` at ``column``; what does not fit on the page is left out."""
        for place, sign in enumerate(text, column):
            if 0 <= place < len(self._signs):
                self._signs[place] = sign

    def free(self, start: int, stop: int) -> bool:
        """Whether the columns from ``start`` up to ``stop`` are still blank."""
        return all(sign == " " for sign in self._signs[max(start, 0) : max(stop, 0)])

    def __str__(self) -> str:
        return "".join(self._signs).rstrip()


def letter_rows(places: Iterable[tuple[int, str]], width: int) -> list[str]:
    """Letters each at its own column; those that would touch go to a row further out, with a leader.

    The last row is the one next to the line.
    """
    rows: list[Row] = []
    placed: list[tuple[int, int]] = []
    for column, letter in sorted(places):
        level = _free_level(rows, column, len(letter), width)
        rows[level].write(column, letter)
        placed.append((column, level))
    for column, level in placed:
        for below in rows[:level]:
            if below.free(column, column + 1):
                below.write(column, "|")
    return [str(row) for row in reversed(rows)]


def _free_level(rows: list[Row], column: int, length: int, width: int) -> int:
    for level, row in enumerate(rows):
        if row.free(column - 1, column + length + 1):
            return level
    rows.append(Row(width))
    return len(rows) - 1


def stretch_rows(stretches: Sequence[Stretch], width: int) -> list[str]:
    """Every stretch between two bars with its name; those that overlap get rows of their own."""
    rows: list[tuple[Row, int]] = []
    for stretch in sorted(stretches, key=lambda each: (each.start, -each.stop)):
        text, start, stop = _barred(stretch, width)
        level = next((place for place, (_, taken) in enumerate(rows) if taken <= start), len(rows))
        if level == len(rows):
            rows.append((Row(width), 0))
        rows[level][0].write(start, text)
        rows[level] = (rows[level][0], stop)
    return [str(row) for row, _ in rows]


def _barred(stretch: Stretch, width: int) -> tuple[str, int, int]:
    """The text, its first column, and the first column after it where a next one may begin."""
    inner = stretch.stop - stretch.start - 1
    for name in (f" {stretch.name} ", f" {stretch.short} ", stretch.short):
        if len(name) <= inner:
            return f"|{name:-^{inner}}|", stretch.start, stretch.stop
    bars = "|" + "-" * inner + "|" if inner >= 0 else "|"
    after = f"{bars} {stretch.short}"
    if stretch.start + len(after) <= width:
        return after, stretch.start, stretch.start + len(after) + 1
    start = stretch.start - len(stretch.short) - 1
    return f"{stretch.short} {bars}", start, stretch.stop + 1


def ruler(scale: Scale, width: int, *, imperial: bool) -> tuple[str, str]:
    """A ruler from distance zero to the right edge and the numbers below it, in mm or inches."""
    unit, symbol = (INCH, "in") if imperial else (MILLIMETRE, "mm")
    end = width - 1
    step = _ruler_step(scale, width, unit, imperial=imperial)
    line, numbers = Row(width), Row(width)
    line.write(scale.left, "-" * (width - scale.left))
    for count in range(int(scale.at(end) / (step * unit)) + 1):
        column = scale.column(count * step * unit)
        line.write(column, "|")
        label = f"{count * step:.12g}" if count else f"0 {symbol}"
        if column + len(label) <= width:
            numbers.write(column, label)
    return str(line), str(numbers)


def _ruler_step(scale: Scale, width: int, unit: float, *, imperial: bool) -> float:
    """The smallest round step whose numbers do not touch."""
    longest = len(f"{scale.at(width) / unit:.0f}") + LABEL_GAP + len(".5 mm")
    steps = INCH_STEPS if imperial else [part * 10.0**power for power in POWERS for part in METRIC_STEPS]
    return next((step for step in steps if step * unit / scale.step_m >= longest), steps[-1])
