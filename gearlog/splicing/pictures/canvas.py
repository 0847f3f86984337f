"""Rows of plain characters: letters over a line, stretches under it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass


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


def listed(first: str, items: Iterable[str], width: int) -> list[str]:
    """Items one after the other with ``;`` between, folded so that none is parted, and indented from the second row."""
    lines, line = [], first
    for item in items:
        words = f" {item};" if line else f"{item};"
        if len(line + words) > width and line.strip():
            lines.append(line)
            line, words = "", f"  {item};"
        line += words
    return [*lines, line.removesuffix(";")]
