"""A figure: lines, outlines and words on a sheet, in millimetres from its upper left corner, y downwards."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

Anchor = Literal["start", "middle", "end"]
Point = tuple[float, float]

LETTER_WIDTH = 0.6  # of the size: an upper bound of the mean for the narrow sans serif faces that are common
THIN, PLAIN, HEAVY = 0.12, 0.25, 0.5  # widths of a stroke (mm)
SMALL, TEXT, LARGE = 2.6, 3.0, 4.0  # sizes of text (mm)


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points; closed and filled with white where it is an outline.

    Attributes:
        dash: lengths of dashes and gaps (mm); empty for a whole line.
        mark: the letter of the mark that this line stands for, or empty.
    """

    points: tuple[Point, ...]
    width: float = PLAIN
    dash: tuple[float, ...] = ()
    closed: bool = False
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """A line of text, its foot at ``y``."""

    x: float
    y: float
    text: str
    size: float = TEXT
    anchor: Anchor = "start"
    bold: bool = False


Part = Stroke | Words


@dataclass(frozen=True, slots=True)
class Figure:
    """Parts on a sheet of ``width`` by ``height`` (mm)."""

    width: float
    height: float
    parts: tuple[Part, ...] = ()


def line(x1: float, y1: float, x2: float, y2: float, width: float = PLAIN) -> Stroke:
    """A straight line."""
    return Stroke(((x1, y1), (x2, y2)), width)


def box(x1: float, y1: float, x2: float, y2: float, width: float = PLAIN) -> Stroke:
    """A rectangle with a white ground."""
    return Stroke(((x1, y1), (x2, y1), (x2, y2), (x1, y2)), width, closed=True)


def width_of(text: str, size: float) -> float:
    """How much room a text may take (mm), rather too much than too little."""
    return len(text) * size * LETTER_WIDTH


def moved(parts: Iterable[Part], down: float) -> tuple[Part, ...]:
    """The same parts further down the sheet."""
    return tuple(_moved(part, down) for part in parts)


def _moved(part: Part, down: float) -> Part:
    if isinstance(part, Words):
        return replace(part, y=part.y + down)
    return replace(part, points=tuple((x, y + down) for x, y in part.points))


def stacked(figures: Iterable[Figure], width: float, gap: float) -> Figure:
    """Figures one under the other."""
    parts: list[Part] = []
    height = 0.0
    for figure in figures:
        parts += moved(figure.parts, height)
        height += figure.height + gap
    return Figure(width, max(height - gap, 0.0), tuple(parts))


def text_lines(text: str, width: float, size: float) -> list[str]:
    """A text broken at spaces to lines that have room; a longer word is cut."""
    most = max(int(width / (size * LETTER_WIDTH)), 1)
    lines = [""]
    for word in text.split():
        pieces = [word[start : start + most] for start in range(0, len(word), most)]
        for piece in pieces:
            joined = f"{lines[-1]} {piece}".strip()
            if len(joined) <= most:
                lines[-1] = joined
            else:
                lines.append(piece)
    return lines
