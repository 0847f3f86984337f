"""All figures of a plan on one sheet: as it lies, finished where that is honest, the filling, the patterns told."""

from __future__ import annotations

from gearlog.domain.picture.labels import MILKED
from gearlog.domain.picture.parts import is_milked, shown_spans
from gearlog.domain.plan import Plan
from gearlog.reports.card.vector.closed import closed
from gearlog.reports.card.vector.figure import SMALL, Figure, Part, Words, stacked, text_lines, width_of
from gearlog.reports.card.vector.filling import filling
from gearlog.reports.card.vector.joined import joined
from gearlog.reports.card.vector.layout import ROW
from gearlog.reports.card.vector.lying import lying
from gearlog.reports.card.vector.patterns import SWATCH_WORDS, Band, pattern_of, swatch

GAP = 3.0  # mm between two figures
SWATCH = 7.0  # mm; the width of a sample of a pattern


def figure_of(plan: Plan, width: float) -> Figure | None:
    """All figures of the plan; None where there is nothing to draw, as in a plan that stops."""
    drawing = drawing_of(plan, width)
    found = (drawing, filling(plan, width)) if drawing else ()
    return stacked((figure for figure in found if figure is not None), width, GAP) if found else None


def drawing_of(plan: Plan, width: float) -> Figure | None:
    """The rope as it lies and finished; None where there is nothing to draw."""
    if plan.stopped or not (plan.marks or plan.spans):
        return None
    finished = closed(plan, width) or joined(plan, width) or _undrawn(plan, width)
    found = (lying(plan, width), swatches(plan, width), finished)
    return stacked((figure for figure in found if figure is not None), width, GAP)


def _undrawn(plan: Plan, width: float) -> Figure | None:
    """Why the finished splice is not drawn, where that wants a word."""
    if not is_milked(plan):
        return None
    lines = text_lines(MILKED, width, SMALL)
    words = tuple(Words(0.0, number * ROW - ROW + SMALL, text, SMALL) for number, text in enumerate(lines, 1))
    return Figure(width, len(lines) * ROW, words)


def swatches(plan: Plan, width: float) -> Figure | None:
    """A sample of each pattern with its meaning; None where no pattern is used."""
    used = dict.fromkeys(pattern_of(plan, span.kind) for span in shown_spans(plan))
    parts: list[Part] = []
    x, y = 0.0, 0.0
    for pattern in used:
        if not pattern:
            continue
        words = _words(plan, pattern)
        room = SWATCH + 1.0 + width_of(words, SMALL) + GAP
        if x and x + room > width:
            x, y = 0.0, y + ROW
        parts += swatch(pattern, Band(x, y, x + SWATCH, y + SMALL))
        parts.append(Words(x + SWATCH + 1.0, y + SMALL, words, SMALL))
        x += room
    return Figure(width, y + ROW, tuple(parts)) if parts else None


def _words(plan: Plan, pattern: str) -> str:
    words = SWATCH_WORDS[pattern]
    return words.replace("eye", "loop") if plan.shape == "sling" else words
