"""The card as one HTML file: no script, nothing from outside, made to be printed in black on white."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.reports.card.content.sections import Card, Column, Facts, Grid, Lines, Picture, Section, Signing
from gearlog.reports.card.safe import markup
from gearlog.reports.card.style import STYLE
from gearlog.reports.card.svg import to_svg

BOX = '<span class="box" role="img" aria-label="to tick"></span>'
CLASSES = {"number": "number", "strong": "strong", "tick": "tick", "blank": "blank", "text": ""}


def to_html(card: Card) -> str:
    """The whole page."""
    title = markup(f"{card.head}: {card.title}")
    parts = [part for section in card.sections for part in _section(section)]
    lines = (
        "<!DOCTYPE html>",
        '<html lang="en">',
        "<head>",
        '<meta charset="utf-8">',
        f"<title>{title}</title>",
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        f"<style>{STYLE}</style>",
        "</head>",
        "<body>",
        "<header>",
        f"<p>{markup(card.head)}</p>",
        f"<h1>{_own(card.title)}</h1>",
        f'<p class="lead">{_own(card.lead)}</p>',
        "</header>",
        *_stops(card),
        "<main>",
        *parts,
        "</main>",
        f"<footer><p>{markup(card.foot)}</p></footer>",
        "</body>",
        "</html>",
    )
    return "\n".join(lines) + "\n"


def _own(text: str) -> str:
    """People's text, kept apart so that its reading direction changes nothing around it."""
    return f"<bdi>{markup(text)}</bdi>"


def _stops(card: Card) -> Iterator[str]:
    if card.stops:
        yield '<section class="stop" role="alert"><h2>STOP</h2><p>Do not make this splice.</p>'
        yield from (f"<p>{markup(stop)}</p>" for stop in card.stops)
        yield "</section>"


def _section(section: Section) -> Iterator[str]:
    narrow = " narrow" if isinstance(section, Grid) and section.narrow else ""
    yield f'<section class="{type(section).__name__.lower()}{narrow}"><h2>{markup(section.title)}</h2>'
    if isinstance(section, Facts):
        yield from _facts(section)
    elif isinstance(section, Grid):
        yield from _grid(section)
    elif isinstance(section, Lines):
        yield from _lines(section)
    elif isinstance(section, Picture):
        yield to_svg(section.figure, section.title)
    else:
        yield from _signing(section)
    yield "</section>"


def _facts(facts: Facts) -> Iterator[str]:
    yield "<dl>"
    for name, value in facts.rows:
        yield f"<div><dt>{markup(name)}</dt><dd>{_own(value)}</dd></div>"
    yield "</dl>"


def _grid(grid: Grid) -> Iterator[str]:
    whole = sum(column.share for column in grid.columns)
    widths = "".join(f'<col style="width: {100 * column.share / whole:.1f}%">' for column in grid.columns)
    yield f"<table><colgroup>{widths}</colgroup><thead><tr>"
    yield from (f'<th scope="col"{_class(column)}>{_heading(column)}</th>' for column in grid.columns)
    yield "</tr></thead><tbody>"
    for row in grid.rows:
        yield "<tr>" + "".join(_cell(column, text) for column, text in zip(grid.columns, row, strict=True)) + "</tr>"
    yield "</tbody></table>"
    if grid.note:
        yield f'<p class="note">{markup(grid.note)}</p>'


def _heading(column: Column) -> str:
    return markup(column.heading) or '<span class="unseen">done</span>'


def _class(column: Column) -> str:
    name = CLASSES[column.kind]
    return f' class="{name}"' if name else ""


def _cell(column: Column, text: str) -> str:
    inside = BOX if column.kind == "tick" else _own(text) if text else ""
    return f"<td{_class(column)}>{inside}</td>"


def _lines(lines: Lines) -> Iterator[str]:
    kind = "ol" if lines.ticked else "ul"
    yield f'<{kind} class="ticked">' if lines.ticked else f"<{kind}>"
    for item in lines.items:
        yield f"<li>{BOX if lines.ticked else ''}{_own(item)}</li>"
    yield f"</{kind}>"


def _signing(signing: Signing) -> Iterator[str]:
    yield '<dl class="sign">'
    for name, value in signing.fields:
        yield f'<div><dt>{markup(name)}</dt><dd class="line">{_own(value) if value else ""}</dd></div>'
    yield "</dl>"
