"""The card as one figure for the SVG file: the same sections as on paper, one under the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from gearlog.reports.card.content.sections import Card, Column, Facts, Grid, Lines, Picture, Section, Signing
from gearlog.reports.card.vector.figure import (
    HEAVY,
    THIN,
    Figure,
    Part,
    Words,
    box,
    line,
    moved,
    stacked,
    text_lines,
)

WIDTH = 186.0  # mm
TITLE, STOP, STOP_TEXT, LEAD, TEXT, HEADING = 6.0, 16.0, 4.5, 3.6, 2.8, 3.4  # mm
LEADING = 1.35
STEP = TEXT * LEADING  # mm; one line of text
GAP, PAD, BOX = 3.0, 1.0, 2.2  # mm; BOX is one to tick
WRITING = 7.0  # mm; the height that a hand needs
INSET = 4.5  # mm; a step's text from its box
NAMES = 48.0  # mm; names of facts
FRAME = 3.0  # mm; white inside the frame of a stop


def sheet_of(card: Card) -> Figure:
    """The whole card."""
    figures = [
        _paragraph(card.head, TEXT),
        _paragraph(card.title, TITLE, bold=True),
        _paragraph(card.lead, LEAD),
        *([_stop(card.stops)] if card.stops else []),
        *(figure for section in card.sections for figure in _section(section)),
        _paragraph(card.foot, TEXT),
    ]
    return stacked(figures, WIDTH, GAP)


def _section(section: Section) -> Iterator[Figure]:
    if isinstance(section, Picture):
        yield section.figure
        return
    rows = [_paragraph(section.title, HEADING, bold=True)]
    if isinstance(section, Lines):
        rows += [_ticked(item) if section.ticked else _paragraph(item, TEXT) for item in section.items]
    elif isinstance(section, Grid):
        rows += [_row(section.columns, [column.heading for column in section.columns], heading=True)]
        rows += [_row(section.columns, row) for row in section.rows]
        rows += [_paragraph(section.note, TEXT)] if section.note else []
    else:
        rows += [_fact(row, written=isinstance(section, Signing)) for row in _pairs(section)]
    yield stacked(rows, WIDTH, PAD / 2)


def _pairs(section: Facts | Signing) -> Sequence[tuple[str, str]]:
    return section.fields if isinstance(section, Signing) else section.rows


def _paragraph(text: str, size: float, *, bold: bool = False, left: float = 0.0, room: float = WIDTH) -> Figure:
    """A text broken to lines."""
    lines = text_lines(text, room - left, size)
    words = [Words(left, (number + 1) * size * LEADING, text, size, bold=bold) for number, text in enumerate(lines)]
    return Figure(WIDTH, (len(lines) + LEADING - 1) * size * LEADING, tuple(words))


def _ticked(item: str) -> Figure:
    text = _paragraph(item, TEXT, left=INSET)
    return Figure(WIDTH, text.height, (box(0.0, STEP - BOX, BOX, STEP), *text.parts))


def _fact(row: tuple[str, str], *, written: bool) -> Figure:
    """A name and its value; on a line to write on where it is ``written``."""
    name, value = _paragraph(f"{row[0]}:", TEXT, room=NAMES), _paragraph(row[1], TEXT, bold=True, left=NAMES)
    high = max(name.height, value.height)
    if not written:
        return Figure(WIDTH, high, (*name.parts, *value.parts))
    foot = max(high, WRITING)
    under = line(NAMES, foot, WIDTH, foot, THIN)
    return Figure(WIDTH, foot + PAD, (*moved((*name.parts, *value.parts), foot - high), under))


def _row(columns: Sequence[Column], row: Sequence[str], *, heading: bool = False) -> Figure:
    """A row of a table: a box to tick, a line to write on, or text broken to the column's width."""
    whole, left = sum(column.share for column in columns), 0.0
    parts: list[Part] = []
    high = STEP
    for column, text in zip(columns, row, strict=True):
        room = column.share / whole * WIDTH
        if column.kind == "tick" and not heading:
            parts.append(box(left, STEP - BOX, left + BOX, STEP))
        elif column.kind == "blank" and not heading:
            high = max(high, WRITING)
            parts.append(line(left, WRITING - PAD / 2, left + room - PAD, WRITING - PAD / 2, THIN))
        else:
            cell = _paragraph(text, TEXT, bold=heading or column.kind != "text", left=left, room=left + room - PAD)
            parts, high = [*parts, *cell.parts], max(high, cell.height)
        left += room
    return Figure(WIDTH, high + PAD, (*parts, line(0.0, high + PAD, WIDTH, high + PAD, THIN)))


def _stop(stops: tuple[str, ...]) -> Figure:
    """The word and its reasons in a heavy frame."""
    reasons = [
        _paragraph(text, STOP_TEXT, bold=True, room=WIDTH - 2 * FRAME) for text in ("Do not make this splice.", *stops)
    ]
    inside = stacked([_paragraph("STOP", STOP, bold=True), *reasons], WIDTH, 0.0)
    high = inside.height + 2 * FRAME
    frame = box(HEAVY, HEAVY, WIDTH - HEAVY, high, 2 * HEAVY)
    return Figure(WIDTH, high + HEAVY, (frame, *(_inset(part) for part in inside.parts)))


def _inset(part: Part) -> Part:
    if isinstance(part, Words):
        return Words(part.x + FRAME, part.y + FRAME / 2, part.text, part.size, part.anchor, part.bold)
    return part
