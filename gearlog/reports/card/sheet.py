"""The card as one figure for the SVG file: what must be seen, the drawing, the marks, the cautions."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.reports.card.content.sections import Card, Facts, Grid, Lines, Picture, Section
from gearlog.reports.card.vector.figure import HEAVY, Figure, Part, Words, box, stacked, text_lines

WIDTH = 186.0  # mm
TITLE, STOP, STOP_TEXT, LEAD, TEXT, HEADING = 6.0, 16.0, 4.5, 3.6, 2.8, 3.4  # mm
LEADING = 1.35
GAP, PAD, TICK = 3.0, 3.0, 3.0  # mm


def sheet_of(card: Card) -> Figure:
    """Everything but the tables that only the paper forms carry."""
    figures = [
        _paragraph((card.head,), TEXT),
        _paragraph((card.title,), TITLE, bold=True),
        _paragraph((card.lead,), LEAD),
        *([_stop(card.stops)] if card.stops else []),
        *(figure for section in card.sections for figure in _section(section)),
        _paragraph((card.foot,), TEXT),
    ]
    return stacked(figures, WIDTH, GAP)


def _section(section: Section) -> Iterator[Figure]:
    if isinstance(section, Picture):
        yield section.figure
    elif isinstance(section, Lines):
        yield _headed(section.title, section.items)
    elif isinstance(section, Grid) and section.title.startswith("Marks"):
        yield _headed(section.title, tuple(_row(section, row) for row in section.rows))
    elif isinstance(section, Facts):
        yield _headed(section.title, tuple(f"{name}: {value}" for name, value in section.rows))


def _row(grid: Grid, row: tuple[str, ...]) -> str:
    cells = zip(grid.columns, row, strict=True)
    return "   ".join(text for column, text in cells if column.kind not in {"tick", "blank"})


def _headed(title: str, items: tuple[str, ...]) -> Figure:
    return stacked([_paragraph((title,), HEADING, bold=True), _paragraph(items, TEXT)], WIDTH, GAP / 3)


def _paragraph(texts: tuple[str, ...], size: float, *, bold: bool = False, room: float = WIDTH) -> Figure:
    """Texts broken to lines, each beginning on its own."""
    lines = [text for whole in texts for text in text_lines(whole, room, size)]
    words = tuple(Words(0.0, (number + 1) * size * LEADING, text, size, bold=bold) for number, text in enumerate(lines))
    return Figure(WIDTH, (len(lines) + LEADING - 1) * size * LEADING, words)


def _stop(stops: tuple[str, ...]) -> Figure:
    """The word and its reasons in a heavy frame."""
    word = _paragraph(("STOP",), STOP, bold=True)
    reasons = _paragraph(("Do not make this splice.", *stops), STOP_TEXT, bold=True, room=WIDTH - 2 * PAD)
    inside = stacked([word, reasons], WIDTH, 0.0)
    high = inside.height + 2 * PAD
    parts: list[Part] = [box(HEAVY, HEAVY, WIDTH - HEAVY, high, 2 * HEAVY)]
    parts += [_inset(part) for part in inside.parts]
    return Figure(WIDTH, high + HEAVY, tuple(parts))


def _inset(part: Part) -> Part:
    if isinstance(part, Words):
        return Words(part.x + PAD, part.y + PAD / 2, part.text, part.size, part.anchor, part.bold)
    return part
