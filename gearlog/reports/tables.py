"""A wide table of text, for those who ask for one; the plain lines are the rule."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from gearlog.units.visible import cells, visible

GAP = "  "  # between two columns


def table_lines(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> tuple[str, ...]:
    """The headings and the rows in columns as wide as their widest cell, however wide that gets."""
    shown = [[visible(cell) for cell in row] for row in (headings, *rows)]
    widths = [max(map(cells, column)) for column in zip(*shown, strict=True)]
    return tuple(
        GAP.join(cell + " " * (width - cells(cell)) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in shown
    )
