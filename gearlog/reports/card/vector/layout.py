"""What stands over and under a band of rope: letters of marks, named stretches, a ruler (mm)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from gearlog.domain.picture.axis import Axis
from gearlog.reports.card.vector.figure import (
    HEAVY,
    PLAIN,
    SMALL,
    TEXT,
    THIN,
    Anchor,
    Figure,
    Part,
    Stroke,
    Words,
    box,
    line,
    width_of,
)

ROW = 4.2  # mm; a row of letters or of named stretches
TICK = 1.2  # mm; the mark at both ends of a stretch
PAD = 1.0  # mm; beside a text
RULER = 6.0  # mm; the height of the ruler with its numbers
MILLIMETRE, INCH = 0.001, 0.0254  # m
METRIC_STEPS = tuple(part * 10.0**power for power in range(-2, 7) for part in (1, 2, 5))
INCH_STEPS = (0.25, 0.5, 1.0, 2.0, 6.0, 12.0, 24.0, 60.0, 120.0, 240.0, 600.0, 1200.0)
LEAST_TICKS = 16.0  # mm between two numbers of the ruler


@dataclass(frozen=True, slots=True)
class Lettered:
    """Letters in rows, the last one nearest to the rope; each letter's place and its foot."""

    height: float
    places: tuple[tuple[float, float, str], ...]


@dataclass(frozen=True, slots=True)
class Stretch:
    """A named piece of the rope on the sheet: from and to (mm), a long name and a short one."""

    start: float
    stop: float
    name: str
    short: str


def lettered(marks: Iterable[tuple[float, str]]) -> Lettered:
    """Letters each over its own place; those that would touch go a row further out."""
    levels: list[float] = []
    placed: list[tuple[float, int, str]] = []
    for x, letter in sorted(marks):
        half = width_of(letter, TEXT) / 2 + PAD / 2
        level = next((number for number, taken in enumerate(levels) if taken <= x - half), len(levels))
        levels[level : level + 1] = [x + half]
        placed.append((x, level, letter))
    height = len(levels) * ROW
    return Lettered(height, tuple((x, height - level * ROW - PAD, letter) for x, level, letter in placed))


def mark_lines(letters: Lettered, bottom: float) -> list[Part]:
    """Each letter and the line from it through the rope down to ``bottom``."""
    parts: list[Part] = []
    for x, foot, letter in letters.places:
        parts.append(Stroke(((x, foot + PAD), (x, bottom)), PLAIN, mark=letter))
        parts.append(Words(x, foot, letter, TEXT, "middle", bold=True))
    return parts


def mark_lines_under(letters: Lettered, top: float, bottom: float) -> list[Part]:
    """The same for letters under a rope that lies between ``top`` and ``bottom``."""
    parts: list[Part] = []
    for x, foot, letter in letters.places:
        y = bottom + letters.height - foot + TEXT
        parts.append(Stroke(((x, top), (x, y - TEXT)), PLAIN, mark=letter))
        parts.append(Words(x, y, letter, TEXT, "middle", bold=True))
    return parts


def named(stretches: Sequence[Stretch], width: float) -> Figure:
    """Every stretch between two ticks with its name; those that overlap stand in rows of their own."""
    taken: list[float] = []
    parts: list[Part] = []
    for stretch in sorted(stretches, key=lambda each: (each.start, -each.stop)):
        text, x, anchor, begins, ends = _placed(stretch, width)
        level = next((number for number, right in enumerate(taken) if right <= begins), len(taken))
        taken[level : level + 1] = [ends]
        foot = (level + 1) * ROW
        parts += [line(at, foot - 2 * TICK, at, foot, THIN) for at in (stretch.start, stretch.stop)]
        parts += _dimension(stretch, text, x, foot) if anchor == "middle" else [_bar(stretch, foot)]
        parts += _grounded(Words(x, foot - PAD / 4, text, SMALL, anchor))
    return Figure(width, len(taken) * ROW, tuple(parts))


def _grounded(words: Words) -> list[Part]:
    """Words on white, so that no line runs through them."""
    room = width_of(words.text, words.size)
    left = words.x - (room / 2 if words.anchor == "middle" else 0.0)
    return [box(left, words.y - words.size, left + room, words.y + PAD / 2, 0.0), words]


def _placed(stretch: Stretch, width: float) -> tuple[str, float, Anchor, float, float]:
    """The text, where it stands and how, and the room from where to where it takes."""
    middle = (stretch.start + stretch.stop) / 2
    for text in (stretch.name, stretch.short):
        if width_of(text, SMALL) + 2 * PAD <= stretch.stop - stretch.start:
            return text, middle, "middle", stretch.start, stretch.stop
    room = width_of(stretch.name, SMALL)
    right = stretch.stop + PAD
    if right + room <= width:
        return stretch.name, right, "start", stretch.start, right + room + PAD
    left = max(stretch.start - PAD - room, 0.0)
    return stretch.name, left, "start", left, stretch.stop


def _bar(stretch: Stretch, foot: float) -> Stroke:
    return line(stretch.start, foot - TICK, stretch.stop, foot - TICK, THIN)


def _dimension(stretch: Stretch, text: str, middle: float, foot: float) -> list[Part]:
    """The line of a stretch, broken by its name."""
    half = width_of(text, SMALL) / 2 + PAD / 2
    y = foot - TICK
    ends = ((stretch.start, max(middle - half, stretch.start)), (min(middle + half, stretch.stop), stretch.stop))
    return [line(start, y, stop, y, THIN) for start, stop in ends]


def ruler(axis: Axis, left: float, right: float, *, imperial: bool, edge: float = 0.0) -> Figure:
    """A ruler from one place on the sheet to another, in mm or inches; it is broken where the rope is cut.

    ``edge`` is how far its last number may reach beyond it (mm).
    """
    unit, symbol = (INCH, "in") if imperial else (MILLIMETRE, "mm")
    step = _step(axis.step_m / unit, imperial=imperial)
    parts: list[Part] = [line(start, 0, stop, 0) for start, stop in _pieces(axis, left, right)]
    last = -math.inf
    for count in _counts(axis, left, right, step * unit):
        x = axis.place(count * step * unit)
        parts.append(line(x, 0, x, TICK))
        text = f"{abs(count) * step:.12g}" if count else f"0 {symbol}"
        half = width_of(text, SMALL) / 2
        if x - half >= last + PAD and x + half <= right + edge:
            parts.append(Words(x, TICK + SMALL, text, SMALL, "middle"))
            last = x + half
    return Figure(right, RULER, tuple(parts))


def _pieces(axis: Axis, left: float, right: float) -> list[tuple[float, float]]:
    edges = [left, *(place for cut in axis.cuts() for place in cut), right]
    return list(zip(edges[::2], edges[1::2], strict=True))


def _counts(axis: Axis, left: float, right: float, step_m: float) -> list[int]:
    """The round distances that are drawn, in order along the sheet."""
    counts: list[int] = []
    for start, stop in _pieces(axis, left, right):
        low, high = axis.at(start), axis.at(stop)
        if low is not None and high is not None:
            counts += range(math.ceil(low / step_m - 1e-9), math.floor(high / step_m + 1e-9) + 1)
    return counts


def _step(millimetres_of_rope: float, *, imperial: bool) -> float:
    """The smallest round step whose numbers do not touch."""
    steps = INCH_STEPS if imperial else METRIC_STEPS
    return next((step for step in steps if step / millimetres_of_rope >= LEAST_TICKS), steps[-1])


def cut_sign(x1: float, x2: float, top: float, bottom: float) -> list[Part]:
    """The sign of a rope cut through: two slanted lines over blank paper."""
    high = bottom - top
    over, slant = high * 0.25, (x2 - x1) * 0.3
    blank = Stroke(((x1 + slant, top - over), (x2 + slant, top - over), (x2 - slant, bottom + over),
                    (x1 - slant, bottom + over)), 0.0, closed=True)  # fmt: skip
    edges = [line(x - slant, bottom + over, x + slant, top - over, HEAVY) for x in (x1, x2)]
    return [blank, *edges]
