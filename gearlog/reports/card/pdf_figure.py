"""A figure put on a page of the PDF, as large as it was drawn or smaller where the page is."""

from __future__ import annotations

from gearlog.reports.card.vector.figure import Figure, Words
from gearlog.reports.paper import faces, leaf
from gearlog.reports.paper.flow import GAP, Flow
from gearlog.reports.paper.leaf import MILLIMETRE


def put_figure(flow: Flow, figure: Figure) -> None:
    """The figure at the flow's place, on a new page where it does not fit."""
    scale = min(MILLIMETRE, flow.room / figure.width, (flow.depth - 2 * GAP) / max(figure.height, 1.0))
    flow.gap(2 * GAP)
    flow.need(figure.height * scale)
    for part in figure.parts:
        if isinstance(part, Words):
            flow.put(_words(flow, part, scale))
        else:
            points = [(flow.left + x * scale, flow.y + y * scale) for x, y in part.points]
            dash = [length * scale for length in part.dash]
            flow.put(leaf.Outline(points, part.width * scale, dash, part.closed))
    flow.gap(figure.height * scale)


def _words(flow: Flow, words: Words, scale: float) -> leaf.Words:
    face = faces.BOLD if words.bold else faces.PLAIN
    size, text = words.size * scale, faces.drawable(words.text, face)
    room = faces.width(text, size, face)
    left = {"start": 0.0, "middle": room / 2, "end": room}[words.anchor]
    return leaf.Words(flow.left + words.x * scale - left, flow.y + words.y * scale, (text,), size, face)
