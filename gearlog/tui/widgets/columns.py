"""Columns of a record list: what they say, how wide they are, which of them a narrow list leaves out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

Row = TypeVar("Row")

GAP = 2  # cells between columns, and before the first for the marker


def _plain(row: object) -> str:
    return ""


@dataclass(frozen=True)
class Column(Generic[Row]):
    """One column.

    Attributes:
        key: its name for sorting.
        heading: in the first line, with the unit where there is one.
        text: what a row says here, finished text; never a float.
        width: cells; for a column with a share, the least.
        share: part of the room that is left over.
        right: whether it stands at the right edge, as numbers do.
        order: sorting key; the text when not given.
        style: ``bad``, ``warn``, ``quiet``, ``accent`` or empty.
        needs: cells that the list must have for the column to be shown.
        until: cells from which on it is no longer shown, for a shorter way of saying what another column of its
            key says; 0 is never.
    """

    key: str
    heading: str
    text: Callable[[Row], str]
    width: int
    share: int = 0
    right: bool = False
    order: Callable[[Row], Any] | None = None
    style: Callable[[Row], str] = _plain
    needs: int = 0
    until: int = 0


def visible_columns(columns: Sequence[Column[Row]], width: int) -> tuple[Column[Row], ...]:
    """The columns that a list of this width shows."""
    return tuple(column for column in columns if width >= column.needs and not 0 < column.until <= width)


def widths(columns: Sequence[Column[Any]], width: int) -> tuple[int, ...]:
    """Cells of each column in a list of this width; the left-over goes to the columns with a share."""
    fixed = sum(column.width for column in columns) + GAP * len(columns)
    shares = sum(column.share for column in columns)
    spare = max(width - fixed - GAP + 1, 0)
    return tuple(column.width + (spare * column.share // shares if shares else 0) for column in columns)
