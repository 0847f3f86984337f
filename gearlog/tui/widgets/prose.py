"""Setting a record in words: facts with their labels, headings, long texts folded. Makes text, knows no record."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.content import Content

from gearlog.tui.text import cell, wrapped

LABEL = 21  # cells for the label of a fact


def heading(words: str) -> list[Content]:
    """An empty line, then a heading."""
    return [Content(""), Content.styled(words, "$accent bold")]


def facts(pairs: Iterable[tuple[str, str]], width: int) -> list[Content]:
    """A line for each fact that has a value: label, then value, folded under itself."""
    return [line for label, value in pairs if value for line in _fact(label, value, width)]


def _fact(label: str, value: str, width: int) -> list[Content]:
    first, *more = wrapped(value, width - LABEL)
    shown = Content.styled(cell(label, LABEL), "$quiet")
    return [Content.assemble(shown, first), *(Content(" " * LABEL + line) for line in more)]


def prose(text: str, width: int, style: str = "") -> list[Content]:
    """A text of any number of lines, folded, in one style."""
    lines = [line for part in text.split("\n") for line in wrapped(part, width)]
    return [Content.styled(line, style) if style else Content(line) for line in lines]


def table(rows: Sequence[Sequence[str]], widths: Sequence[int], width: int) -> list[Content]:
    """Rows whose last column takes the room that is left and folds under itself."""
    room = max(width - sum(widths) - 2 * len(widths), 10)
    return [line for row in rows for line in _row(row, widths, room)]


def _row(row: Sequence[str], widths: Sequence[int], room: int) -> list[Content]:
    lead = "".join(f"{cell(text, size)}  " for text, size in zip(row, widths, strict=False))
    first, *more = wrapped(row[-1], room)
    indent = " " * (sum(widths) + 2 * len(widths))
    return [Content(lead + first), *(Content(indent + line) for line in more)]


def joined(lines: Iterable[Content]) -> Content:
    """The lines as one text."""
    return Content("\n").join(lines)
