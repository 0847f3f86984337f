"""Lines of plain text with a tone: what pages of a plan or a record are made of before they are drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from rich.cells import cell_len
from textual.content import Content

from gearlog.tui.text import wrapped
from gearlog.units.visible import visible

GAP = 2  # cells between two columns: one runs together on a bad screen
LEAST_WORDS = 16  # cells; a column of words narrower than this is unreadable, so it goes below instead


class Tone(StrEnum):
    """How a line is set; its words say the same without it."""

    PLAIN = "plain"
    HEAD = "head"
    STRONG = "strong"
    MUTED = "muted"
    STOP = "stop"
    WARN = "warn"
    CHOSEN = "chosen"


@dataclass(frozen=True, slots=True)
class Line:
    """One line on the screen.

    Attributes:
        text: what it says; control signs are already visible.
        tone: how it is set.
        key: what it stands for, for example the id of a mark; a cursor stops at lines with a key.
    """

    text: str
    tone: Tone = Tone.PLAIN
    key: str = ""


BLANK = Line("")
_STYLES = {
    Tone.HEAD: "$accent bold",
    Tone.STRONG: "bold",
    Tone.MUTED: "$quiet",
    Tone.STOP: "$bad bold",
    Tone.WARN: "$warn bold",
    Tone.CHOSEN: "reverse",
}


def as_content(lines: Sequence[Line]) -> Content:
    """The lines as one text for a widget that shows text."""
    styles = ((line.text, _STYLES.get(line.tone, "")) for line in lines)
    return Content("\n").join(Content.styled(text, style) if style else Content(text) for text, style in styles)


def heading(words: str) -> tuple[Line, Line]:
    """A blank line and a heading."""
    return BLANK, Line(visible(words), Tone.HEAD)


def paragraph(words: str, width: int, *, first: str = "", tone: Tone = Tone.PLAIN) -> tuple[Line, ...]:
    """A paragraph behind ``first``; its further lines, those of the writer too, are set in under its beginning."""
    inset = cell_len(first)
    room = max(width - inset, LEAST_WORDS)
    lines = [line for part in words.split("\n") for line in wrapped(part, room)]
    return tuple(Line((" " * inset if number else first) + line, tone) for number, line in enumerate(lines))


def keyed(lines: Sequence[Line], key: str) -> tuple[Line, ...]:
    """The lines, the first standing for ``key``, so that a cursor stops there."""
    return tuple(line if number else replace(line, key=key) for number, line in enumerate(lines))


def padded(words: str, width: int, *, right: bool = False) -> str:
    """``words`` filled up with spaces to ``width`` cells; longer words stay whole."""
    space = " " * (width - cell_len(words))
    return space + words if right else words + space


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, and whether its cells stand at the right edge (numbers do)."""

    heading: str
    right: bool = False


def table(
    columns: Sequence[Column], rows: Sequence[Sequence[str]], width: int, *, keys: Sequence[str] = ()
) -> tuple[Line, ...]:
    """A table whose last column holds words and is folded; without room it stands below its row.

    Args:
        columns: at least two.
        rows: one text for each column.
        width: cells there are.
        keys: the key of each row's first line, when a cursor shall stop there.
    """
    cells = [[visible(cell) for cell in row] for row in rows]
    widths = [
        max(cell_len(text) for text in (column.heading, *(row[place] for row in cells)))
        for place, column in enumerate(columns[:-1])
    ]
    head = _row([column.heading for column in columns], columns, widths, width)
    body = [_row(row, columns, widths, width) for row in cells]
    return (
        *(replace(line, tone=Tone.MUTED) for line in head),
        *(
            replace(line, key=keys[number] if keys and not place else "")
            for number, lines in enumerate(body)
            for place, line in enumerate(lines)
        ),
    )


def _row(cells: Sequence[str], columns: Sequence[Column], widths: Sequence[int], width: int) -> tuple[Line, ...]:
    gap = " " * GAP
    start = gap.join(
        padded(cell, wide, right=column.right) for cell, column, wide in zip(cells, columns, widths, strict=False)
    )
    room = width - cell_len(start) - GAP
    if room >= LEAST_WORDS:
        return paragraph(cells[-1], width, first=start + gap)
    return (Line(start.rstrip()), *(paragraph(cells[-1], width, first=gap * 2) if cells[-1] else ()))
