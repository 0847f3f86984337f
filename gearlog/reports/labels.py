"""Sheets of small labels: tag, name, next due, and a QR code of the tag, with lines to cut along."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from gearlog.reports.paper import faces
from gearlog.reports.paper.leaf import MILLIMETRE, PAPERS, Box, Leaf, Mark, Rule, Size, Words, printed

WIDTH, HEIGHT = 46 * MILLIMETRE, 22 * MILLIMETRE
"""Of one label: it winds round a 12 mm rope once with the text in sight."""
EDGE = 10 * MILLIMETRE  # white round the sheet; no printer needs more
CODE = 18 * MILLIMETRE
"""Side of the code with its white border; a module of the longest tag is 0.4 mm then, which any telephone reads."""
QUIET = 4  # modules of white round a code (ISO/IEC 18004)
INSET = 1.5 * MILLIMETRE
TAG_SIZE, NAME_SIZE, DUE_SIZE = 9.0, 6.5, 7.0  # points
LEAST_SIZE = 4.5  # points; below it nobody reads a label
NAME_LINES = 2
SHRINK = 0.5  # points a step
GREY_RULE = 0.25  # points: a line to cut along that is hardly seen when the cut misses it


class Label(msgspec.Struct, frozen=True):
    """What one label bears.

    Attributes:
        tag: the item's tag, which is what the code holds.
        name: what the crew calls it.
        due: when it is due next, in words.
    """

    tag: str
    name: str
    due: str


def sheet_of(labels: Sequence[Label], *, paper: str = "a4") -> bytes:
    """The labels as a PDF, row by row."""
    size = PAPERS[paper]
    return printed(tuple(_leaves(labels, size)), size, title=f"Labels of {len(labels)} items")


def places(size: Size) -> tuple[int, int]:
    """How many labels fit side by side and one below another."""
    return int((size.width - 2 * EDGE) // WIDTH), int((size.height - 2 * EDGE) // HEIGHT)


def _leaves(labels: Sequence[Label], size: Size) -> Iterator[Leaf]:
    across, down = places(size)
    left = (size.width - across * WIDTH) / 2
    for start in range(0, len(labels), across * down):
        marks: list[Mark] = []
        for place, label in enumerate(labels[start : start + across * down]):
            row, column = divmod(place, across)
            marks += _label(label, left + column * WIDTH, EDGE + row * HEIGHT)
        yield marks


def _label(label: Label, x: float, y: float) -> Iterator[Mark]:
    yield from _cuts(x, y)
    yield from _code(label.tag, x + WIDTH - CODE - INSET / 2, y + (HEIGHT - CODE) / 2)
    room, left = WIDTH - CODE - 2 * INSET, x + INSET
    down = y + INSET
    for text, size, face, lines in (
        (label.tag, TAG_SIZE, faces.BOLD, 2),
        (label.name, NAME_SIZE, faces.PLAIN, NAME_LINES),
        (label.due, DUE_SIZE, faces.BOLD, 2),
    ):
        fitted, points = _fitted(text, room, size, face, lines)
        yield Words(left, down + points, fitted, points, face, points * 1.15)
        down += len(fitted) * points * 1.15 + 2


def _fitted(text: str, room: float, size: float, face: str, lines: int) -> tuple[tuple[str, ...], float]:
    """The text in as many lines as there is room for, in a smaller size where that helps, cut where it does not."""
    while size > LEAST_SIZE and len(faces.broken(text, room, size, face)) > lines:
        size -= SHRINK
    found = faces.broken(text, room, size, face)
    if len(found) <= lines:
        return found, size
    return (*found[: lines - 1], found[lines - 1][:-3] + "..."), size


def _code(tag: str, x: float, y: float) -> Iterator[Mark]:
    """The code's black modules, those in a row as one box."""
    import segno

    rows = [list(row) for row in segno.make_qr(tag, error="m").matrix]
    step = CODE / (len(rows) + 2 * QUIET)
    for down, row in enumerate(rows):
        start = 0
        while start < len(row):
            stop = start
            while stop < len(row) and row[stop]:
                stop += 1
            if stop > start:
                yield Box(x + (start + QUIET) * step, y + (down + QUIET) * step, (stop - start) * step, step * 1.02)
            start = stop + 1


def _cuts(x: float, y: float) -> Iterator[Mark]:
    right, below = x + WIDTH, y + HEIGHT
    for line in ((x, y, right, y), (x, below, right, below), (x, y, x, below), (right, y, right, below)):
        yield Rule(*line, GREY_RULE)
