"""A table that runs over pages: headings on each, a row whole on one page unless it is longer than a page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

import msgspec

from gearlog.reports.paper import faces
from gearlog.reports.paper.flow import LEADING, TEXT, Flow
from gearlog.reports.paper.leaf import Box, Rule, Words

PAD = 2.5  # points between a cell's text and its edges
SHADE = 0.9  # of the headings' ground: light enough for black text on any printer


class Column(msgspec.Struct, frozen=True):
    """One column: its heading, and its share of the width."""

    heading: str
    share: float


class Part(msgspec.Struct, frozen=True):
    """Text of a cell that begins on a line of its own."""

    text: str
    face: str = faces.PLAIN


Cell = Sequence[Part]
Line = tuple[str, str]  # text and face


def plain(*texts: str) -> Cell:
    """A cell of plain text, each on a line of its own; empty ones are left out."""
    return [Part(text) for text in texts if text]


def bold(text: str) -> Part:
    """Text that stands out."""
    return Part(text, faces.BOLD)


class Grid:
    """One table on a flow of pages."""

    def __init__(self, flow: Flow, columns: Sequence[Column], *, size: float = TEXT) -> None:
        whole = sum(column.share for column in columns)
        self._flow = flow
        self._columns = columns
        self._size = size
        self._step = size * LEADING
        self._widths = [column.share / whole * flow.room for column in columns]
        self._headings = self._broken([[bold(column.heading)] for column in columns])

    def fill(self, rows: Iterable[Sequence[Cell]]) -> None:
        """Draw the headings and all rows."""
        first = True
        for row in rows:
            lines = self._broken(row)
            if first:
                self._flow.need(self._height(self._headings) + min(self._height(lines), self._flow.depth / 2))
                self._head()
                first = False
            self._row(lines)

    def _broken(self, row: Sequence[Cell]) -> list[list[Line]]:
        return [
            [
                (line, part.face)
                for part in cell
                for line in faces.broken(part.text, room - 2 * PAD, self._size, part.face)
            ]
            for cell, room in zip(row, self._widths, strict=True)
        ]

    def _height(self, row: Sequence[Sequence[Line]]) -> float:
        return max(1, *map(len, row)) * self._step + 2 * PAD

    def _head(self) -> None:
        height = self._height(self._headings)
        self._flow.put(Box(self._flow.left, self._flow.y, self._flow.room, height, SHADE))
        self._draw(self._headings)

    def _row(self, row: list[list[Line]]) -> None:
        height = self._height(row)
        if height > self._flow.depth - self._height(self._headings):
            self._long_row(row)
            return
        if self._flow.y + height > self._flow.bottom:
            self._turn()
        self._draw(row)

    def _long_row(self, row: list[list[Line]]) -> None:
        """A row in parts, each as long as what is left of the page."""
        while any(row):
            if self._flow.y + 3 * self._step > self._flow.bottom:
                self._turn()
            fits = max(1, int((self._flow.bottom - self._flow.y - 2 * PAD) / self._step))
            self._draw([cell[:fits] for cell in row])
            row = [cell[fits:] for cell in row]

    def _turn(self) -> None:
        self._flow.turn()
        self._head()

    def _draw(self, row: Sequence[Sequence[Line]]) -> None:
        flow, x = self._flow, self._flow.left
        put, size, step = flow.leaves[-1].append, self._size, self._step
        top = flow.y + PAD + size
        for cell, room in zip(row, self._widths, strict=True):
            y = top
            for face, run in groupby(cell, key=_face_of):
                lines = [text for text, _ in run]
                put(Words(x + PAD, y, lines, size, face, step))
                y += step * len(lines)
            x += room
        flow.y += self._height(row)
        flow.put(Rule(flow.left, flow.y, flow.left + flow.room, flow.y))


def _face_of(line: Line) -> str:
    return line[1]
