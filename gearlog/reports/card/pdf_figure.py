"""A figure put on a page of the PDF, in its middle, a little smaller than drawn: marks and cuts stay on its page."""

from __future__ import annotations

from gearlog.reports.card.vector.figure import Figure, Words
from gearlog.reports.paper import faces, leaf
from gearlog.reports.paper.flow import GAP, Flow
from gearlog.reports.paper.leaf import MILLIMETRE

SHARE = 0.9  # of what there is room for


def put_figure(flow: Flow, figure: Figure) -> None:
    """The figure at the flow's place, on a new page where it does not fit."""
    scale = SHARE * min(MILLIMETRE, flow.room / figure.width, (flow.depth - 2 * GAP) / max(figure.height, 1.0))
    left = flow.left + (flow.room - figure.width * scale) / 2
    flow.gap(2 * GAP)
    flow.need(figure.height * scale)
    for part in figure.parts:
        if isinstance(part, Words):
            flow.put(_words(part, scale, left, flow.y))
        else:
            points = [(left + x * scale, flow.y + y * scale) for x, y in part.points]
            dash = [length * scale for length in part.dash]
            flow.put(leaf.Outline(points, part.width * scale, dash, part.closed))
    flow.gap(figure.height * scale)


def _words(words: Words, scale: float, left: float, top: float) -> leaf.Words:
    face = faces.BOLD if words.bold else faces.PLAIN
    size, text = words.size * scale, faces.drawable(words.text, face)
    room = faces.width(text, size, face)
    before = {"start": 0.0, "middle": room / 2, "end": room}[words.anchor]
    return leaf.Words(left + words.x * scale - before, top + words.y * scale, (text,), size, face)
