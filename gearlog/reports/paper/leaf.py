"""A page before it is printed: words, rules and grey boxes at their places, measured from its upper left corner."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING

import msgspec

from gearlog.reports.paper import faces

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.pdfgen.textobject import PDFTextObject

REMEMBERED = 65_536  # lines; a long list repeats most of them
INCH = 72.0  # points
MILLIMETRE = INCH / 25.4
MARGIN = 12 * MILLIMETRE
"""White on all four sides: printers leave up to 6 mm, a binder's holes take 12."""


class Size(msgspec.Struct, frozen=True):
    """A page's width and height (points)."""

    width: float
    height: float

    @property
    def turned(self) -> Size:
        """The same paper lying on its side."""
        return Size(self.height, self.width)


PAPERS = {"a4": Size(210 * MILLIMETRE, 297 * MILLIMETRE), "letter": Size(8.5 * INCH, 11 * INCH)}
"""The papers there are: ISO 216 A4, and ANSI/ASME Y14.1 A, called letter."""


class Words(msgspec.Struct, frozen=True):
    """Drawable text in one face: lines at equal steps, ``y`` is the base line of the first."""

    x: float
    y: float
    lines: Sequence[str]
    size: float
    face: str = faces.PLAIN
    step: float = 0.0


class Rule(msgspec.Struct, frozen=True):
    """A straight line."""

    x: float
    y: float
    to_x: float
    to_y: float
    weight: float = 0.4


class Box(msgspec.Struct, frozen=True):
    """A filled rectangle; ``grey`` is 0 for black and 1 for white."""

    x: float
    y: float
    width: float
    height: float
    grey: float = 0.0


class Outline(msgspec.Struct, frozen=True):
    """A line through points; a ``closed`` one is filled with white. Weight 0 draws the white alone."""

    points: Sequence[tuple[float, float]]
    weight: float = 0.4
    dash: Sequence[float] = ()
    closed: bool = False


Mark = Words | Rule | Box | Outline
Leaf = Sequence[Mark]
Foot = Callable[[int, int], Leaf]
"""What stands at the foot of page ``n`` of ``all``."""


def printed(leaves: Sequence[Leaf], size: Size, *, title: str, foot: Foot | None = None) -> bytes:
    """The leaves as a PDF whose bytes depend on nothing else: no clock, no machine."""
    import io

    from reportlab import rl_config
    from reportlab.pdfgen.canvas import Canvas

    rl_config.useA85 = 0  # a fifth smaller and a tenth faster; mail has carried eight bits for decades
    file = io.BytesIO()
    for face in (faces.PLAIN, faces.BOLD):
        faces.font(face)
    canvas = Canvas(file, pagesize=(size.width, size.height), invariant=1, pageCompression=1)
    canvas.setTitle(title)
    canvas.setAuthor("gearlog")
    for number, leaf in enumerate(leaves, 1):
        _draw(canvas, leaf, size.height)
        if foot is not None:
            _draw(canvas, foot(number, len(leaves)), size.height)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def _draw(canvas: Canvas, leaf: Leaf, height: float) -> None:
    """The marks in their order; words that follow one another are written in one go, which is much faster."""
    for kind, marks in groupby(leaf, key=type):
        if kind is Words:
            _write(canvas, marks, height)  # type: ignore[arg-type] # grouped by their type
            continue
        for mark in marks:
            if isinstance(mark, Rule):
                canvas.setLineWidth(mark.weight)
                canvas.line(mark.x, height - mark.y, mark.to_x, height - mark.to_y)
            elif isinstance(mark, Outline):
                _trace(canvas, mark, height)
            elif isinstance(mark, Box):
                canvas.setFillGray(mark.grey)
                canvas.rect(mark.x, height - mark.y - mark.height, mark.width, mark.height, stroke=0, fill=1)
                canvas.setFillGray(0)


def _trace(canvas: Canvas, outline: Outline, height: float) -> None:
    path = canvas.beginPath()
    (x, y), *further = outline.points
    path.moveTo(x, height - y)
    for next_x, next_y in further:
        path.lineTo(next_x, height - next_y)
    if outline.closed:
        path.close()
    canvas.saveState()
    canvas.setLineWidth(outline.weight)
    canvas.setDash(list(outline.dash))
    canvas.setFillGray(1)
    canvas.drawPath(path, stroke=int(outline.weight > 0), fill=int(outline.closed))
    canvas.restoreState()


def _write(canvas: Canvas, several: Iterable[Words], height: float) -> None:
    text, set_in = canvas.beginText(), ("", 0.0, 0.0)
    put = text._code.append  # type: ignore[attr-defined]  # the printer's own list of what it writes
    for words in several:
        put(f"1 0 0 1 {words.x:.2f} {height - words.y:.2f} Tm")
        wanted = (words.face, words.size, words.step)
        if wanted != set_in:
            text.setFont(*wanted)
            set_in = wanted
        for line in words.lines:
            if not line.isascii():
                _write_mixed(text, line, words)
            elif text._curSubset == 0:  # type: ignore[attr-defined]
                put(_shown(line))
            else:
                text.textLine(line)  # the first one names the font, too
    canvas.drawText(text)


@lru_cache(REMEMBERED)
def _shown(line: str) -> str:
    """The operators that show a line of ASCII and go to the next: our fonts keep it as it is in their first part.

    The printer looks every letter up anew, which takes half of the time of a long list.
    """
    escaped = line.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)")
    return f"({escaped}) Tj T*"


def _write_mixed(text: PDFTextObject, line: str, words: Words) -> None:
    """A line for which other fonts may be needed."""
    for face, piece in faces.pieces(line, words.face):
        faces.font(face)
        text.setFont(face, words.size, words.step)
        text.textOut(piece)
    text.setFont(words.face, words.size, words.step)
    text.textLine("")
