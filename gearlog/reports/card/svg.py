"""A figure as SVG: one element a part, sizes in millimetres, nothing from outside the file."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.reports.card.safe import markup
from gearlog.reports.card.vector.figure import Figure, Part, Words

FONT = "'DejaVu Sans Condensed', 'Liberation Sans Narrow', 'Arial Narrow', Arial, Helvetica, sans-serif"
MARGIN = 12.0  # mm; white round a file of its own, which makes a page as wide as A4
PLACES = 3  # decimals of a millimetre: finer than any printer
NAMESPACE = "http://www.w3.org/2000/svg"


def to_svg(figure: Figure, title: str, *, alone: bool = False) -> str:
    """The figure as an ``svg`` element that can stand in a page, or ``alone`` as a file of its own."""
    head, white = ('<?xml version="1.0" encoding="UTF-8"?>\n', MARGIN) if alone else ("", 0.0)
    wide, high = figure.width + 2 * white, figure.height + 2 * white
    size = f'width="{_mm(wide)}mm" height="{_mm(high)}mm"'
    box = f'viewBox="{_mm(-white)} {_mm(-white)} {_mm(wide)} {_mm(high)}"'
    lines = [
        f'{head}<svg xmlns="{NAMESPACE}" {size} {box} role="img" font-family="{FONT}" fill="black">',
        f"<title>{markup(title)}</title>",
        *(element for part in figure.parts for element in _element(part)),
        "</svg>",
    ]
    return "\n".join(lines)


def _element(part: Part) -> Iterator[str]:
    if isinstance(part, Words):
        bold = ' font-weight="bold"' if part.bold else ""
        anchor = "" if part.anchor == "start" else f' text-anchor="{part.anchor}"'
        place = f'x="{_mm(part.x)}" y="{_mm(part.y)}" font-size="{_mm(part.size)}"'
        yield f"<text {place}{anchor}{bold}>{markup(part.text)}</text>"
        return
    points = " ".join(f"{_mm(x)},{_mm(y)}" for x, y in part.points)
    kind, fill = ("polygon", "white") if part.closed else ("polyline", "none")
    dash = f' stroke-dasharray="{" ".join(map(_mm, part.dash))}"' if part.dash else ""
    mark = f' class="mark" data-mark="{markup(part.mark)}"' if part.mark else ""
    stroke = f'stroke="black" stroke-width="{_mm(part.width)}"' if part.width else 'stroke="none"'
    yield f'<{kind} points="{points}" fill="{fill}" {stroke}{dash}{mark}/>'


def _mm(value: float) -> str:
    text = f"{value:.{PLACES}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
