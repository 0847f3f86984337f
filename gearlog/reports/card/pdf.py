"""The card as a PDF: one page where it fits in legible type, else as many as it takes; nothing is left out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from gearlog.reports.card.content.sections import Card, Column, Facts, Grid, Lines, Picture, Section, Signing
from gearlog.reports.card.pdf_figure import put_figure
from gearlog.reports.paper import faces
from gearlog.reports.paper import grid as paper
from gearlog.reports.paper.flow import GAP, LEADING, TITLE, Flow
from gearlog.reports.paper.leaf import MARGIN, PAPERS, Leaf, Rule, Size, Words, printed
from gearlog.units.visible import visible

SIZES = (7.5, 7.0, 6.5)  # points; the first that takes no more pages than the smallest
STOP_SIZE, STOP_TEXT = 44.0, 12.0  # points
LEAD, HEADING, SMALL = 10.0, 9.5, 6.5  # points
BOX, BLANK = "\u2610", "_" * 16  # a box to tick; a line to write on
INSET = 12.0  # points; a step's text from its box
COLUMNS = 2  # of facts
NAME_SHARE = 0.36  # of a column of facts
LINE_TO_WRITE = 20.0  # points; the height that a hand needs
FRAME = 3.0  # points; the rule round a stop


def to_pdf(card: Card, paper_name: str) -> bytes:
    """The card on ``a4`` or ``letter`` paper; its bytes depend on the card alone."""
    size = PAPERS[paper_name]
    pages = [_laid_out(card, size, text) for text in SIZES]
    chosen = min(pages, key=len)
    title = faces.drawable(visible(f"{card.head}: {card.title}"))
    return printed(chosen, size, title=title, foot=lambda number, of: _foot(card, size, number, of))


def _laid_out(card: Card, size: Size, text: float) -> tuple[Leaf, ...]:
    flow = Flow(size)
    flow.text(card.head, size=text)
    flow.text(card.title, size=TITLE, face=faces.BOLD)
    flow.text(card.lead, size=LEAD)
    flow.gap(GAP / 2)
    flow.put(Rule(flow.left, flow.y, flow.left + flow.room, flow.y, 1.2))
    flow.gap(GAP)
    if card.stops:
        _stop(flow, card.stops)
    for group in _groups(card.sections):
        if not _beside(flow, group, text):
            for section in group:
                _section(flow, section, text)
    return flow.pages()


def _stop(flow: Flow, stops: Sequence[str]) -> None:
    """The word and its reasons between two heavy rules."""
    for number, words in enumerate(("STOP", "Do not make this splice.", *stops)):
        if not number:
            _heavy(flow)
        flow.text(words, size=STOP_TEXT if number else STOP_SIZE, face=faces.BOLD)
    flow.gap(GAP)
    _heavy(flow)


def _heavy(flow: Flow) -> None:
    flow.need(FRAME + GAP)
    flow.put(Rule(flow.left, flow.y, flow.left + flow.room, flow.y, FRAME))
    flow.gap(GAP)


def _groups(sections: Sequence[Section]) -> Iterator[tuple[Section, ...]]:
    """The sections one by one, narrow tables that follow each other together."""
    for narrow, run in groupby(sections, key=lambda section: isinstance(section, Grid) and section.narrow):
        together = tuple(run)
        yield from [together] if narrow else [(section,) for section in together]


def _beside(flow: Flow, group: tuple[Section, ...], size: float) -> bool:
    """Lay two tables side by side, on a new page where they do not fit on this one; whether that was done."""
    if len(group) != COLUMNS:
        return False
    if _laid_beside(flow, group, size):
        return True
    before = [*flow.leaves], flow.y
    flow.turn()
    if _laid_beside(flow, group, size):
        return True
    flow.leaves, flow.y = before
    return False


def _laid_beside(flow: Flow, group: tuple[Section, ...], size: float) -> bool:
    """The same on this page alone; nothing is left on it where it does not fit."""
    left, room, top, page, marks = flow.left, flow.room, flow.y, len(flow.leaves), len(flow.leaves[-1])
    bottoms = []
    flow.room = room / COLUMNS - GAP
    for number, section in enumerate(group):
        flow.left, flow.y = left + number * room / COLUMNS, top
        _section(flow, section, size)
        bottoms.append(flow.y)
    flow.left, flow.room = left, room
    fits = len(flow.leaves) == page
    if not fits:
        del flow.leaves[page:], flow.leaves[page - 1][marks:]
    flow.y = max(bottoms) if fits else top
    return fits


def _section(flow: Flow, section: Section, size: float) -> None:
    if isinstance(section, Picture):
        put_figure(flow, section.figure)
        return
    flow.gap(GAP)
    flow.need((HEADING + 3 * size) * LEADING + GAP)
    flow.text(section.title, size=HEADING, face=faces.BOLD)
    flow.gap(GAP / 2)
    if isinstance(section, Facts):
        _facts(flow, section, size)
    elif isinstance(section, Grid):
        _grid(flow, section, size)
    elif isinstance(section, Lines):
        _lines(flow, section, size)
    else:
        _signing(flow, section, size)


def _facts(flow: Flow, facts: Facts, size: float) -> None:
    """Names and values in two columns, as even as their heights allow; one after the other where they are very long."""
    room, step = flow.room / COLUMNS, size * LEADING
    cells = [_fact(row, room, size) for row in facts.rows]
    heights = [max(map(len, cell)) * step for cell in cells]
    half = _half(heights)
    height = max(sum(heights[:half]), sum(heights[half:]))
    if height > flow.depth:
        for name, value in facts.rows:
            flow.text(f"{name}: {value}", size=size)
        return
    flow.need(height)
    for number, column in enumerate((range(half), range(half, len(cells)))):
        left, y = flow.left + number * room, flow.y
        for index in column:
            names, values = cells[index]
            flow.put(Words(left, y + size, names, size, faces.PLAIN, step))
            flow.put(Words(left + room * NAME_SHARE, y + size, values, size, faces.BOLD, step))
            y += heights[index]
    flow.y += height


def _half(heights: Sequence[float]) -> int:
    """Where to part a column so that the higher of both parts is as low as can be."""
    return min(range(len(heights) + 1), key=lambda at: max(sum(heights[:at]), sum(heights[at:])))


def _fact(row: tuple[str, str], room: float, size: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
    name, value = row
    names = faces.broken(f"{name}:", room * NAME_SHARE - GAP, size, faces.PLAIN)
    return names, faces.broken(value, room * (1 - NAME_SHARE) - GAP, size, faces.BOLD)


def _grid(flow: Flow, grid: Grid, size: float) -> None:
    columns = [paper.Column(column.heading, column.share) for column in grid.columns]
    table = paper.Grid(flow, columns, size=size)
    table.fill([_cell(column, text) for column, text in zip(grid.columns, row, strict=True)] for row in grid.rows)
    if grid.note:
        flow.gap(GAP / 2)
        flow.text(grid.note, size=size)


def _cell(column: Column, text: str) -> paper.Cell:
    if column.kind == "tick":
        return [paper.Part(BOX)]
    if column.kind == "blank":
        return [paper.Part(""), paper.Part(BLANK)]
    return [paper.bold(text)] if column.kind in {"strong", "number"} else paper.plain(text)


def _lines(flow: Flow, lines: Lines, size: float) -> None:
    for item in lines.items:
        if lines.ticked:
            flow.need(size * LEADING)
            flow.put(Words(flow.left, flow.y + size, (BOX,), size))
        flow.text(item, size=size, inset=INSET if lines.ticked else 0.0)
        flow.gap(GAP / 4)


def _signing(flow: Flow, signing: Signing, size: float) -> None:
    """Lines to write on side by side; what is known stands on them."""
    room = flow.room / len(signing.fields)
    names = [faces.broken(f"{name}:", room - GAP, size, faces.PLAIN) for name, _ in signing.fields]
    values = [faces.broken(value, room - GAP, size, faces.BOLD) if value else () for _, value in signing.fields]
    step = size * LEADING
    top = max(map(len, names)) * step
    height = top + max(LINE_TO_WRITE, *(len(value) * step + GAP for value in values))
    flow.need(height + GAP)
    for number, (name, value) in enumerate(zip(names, values, strict=True)):
        left = flow.left + number * room
        flow.put(Words(left, flow.y + size, name, size, faces.PLAIN, step))
        flow.put(Words(left, flow.y + top + size + GAP / 2, value, size, faces.BOLD, step))
        flow.put(Rule(left, flow.y + height, left + room - GAP, flow.y + height))
    flow.gap(height + GAP)


def _foot(card: Card, size: Size, number: int, of: int) -> Leaf:
    y = size.height - MARGIN
    page = f"page {number} of {of}"
    stop = "STOP: do not make this splice. " if card.stops else ""
    right = size.width - MARGIN - faces.width(page, SMALL)
    return [
        Rule(MARGIN, y - 1.5 * SMALL, size.width - MARGIN, y - 1.5 * SMALL),
        Words(MARGIN, y, (faces.drawable(f"{stop}{card.foot}"),), SMALL),
        Words(right, y, (page,), SMALL),
    ]
