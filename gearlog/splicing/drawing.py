"""A plan as a picture of plain characters: the rope as it lies, the finished splice, the marks explained.

Every position is to scale within half a column. Only signs of one cell are used, so that the picture
stands on any terminal, on paper and on a screen in daylight.
"""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.picture.labels import length_of
from gearlog.domain.plan import Plan
from gearlog.splicing.pictures.canvas import listed
from gearlog.splicing.pictures.filling import filling
from gearlog.splicing.pictures.finished import finished
from gearlog.splicing.pictures.lying import lying
from gearlog.splicing.pictures.signs import CUT, sign_words
from gearlog.units.visible import cells, folded, visible

LEAST_WIDTH = 60  # columns; below it the parts cannot be told apart


def draw(plan: Plan, width: int) -> tuple[str, ...]:
    """The plan's picture, never wider than ``width`` (60 at least); why there is none when the plan stops."""
    width = max(width, LEAST_WIDTH)
    if not plan.marks and not plan.spans:
        return tuple(_nothing_drawn(plan, width))
    pictures = (*_stops(plan, width), *lying(plan, width), *finished(plan, width))
    cut = any(CUT in line for line in pictures)
    return (*pictures, *legend(plan, width), *listed("Signs:", sign_words(plan, cut=cut), width))


def fill_profile(plan: Plan, width: int) -> tuple[str, ...]:
    """What lies inside the standing part along the bury, as heights and in words; nothing without a profile."""
    return filling(plan, max(width, LEAST_WIDTH))


def legend(plan: Plan, width: int) -> tuple[str, ...]:
    """Every letter explained: its distance from the origin, part, name."""
    rows = [(visible(mark.letter), length_of(plan, mark.shown_m), mark) for mark in plan.marks]
    letters = max((cells(letter) for letter, _, _ in rows), default=0)
    lengths = max((len(length) for _, length, _ in rows), default=0)
    lines: list[str] = []
    for letter, length, mark in rows:
        first = f"{letter}{' ' * (letters - cells(letter))}  {length:>{lengths}}  "
        inset = cells(first)
        words = folded(f"{mark.part}: {mark.name}", width - inset)
        lines.extend((" " * inset if number else first) + line for number, line in enumerate(words))
    return tuple(lines)


def _stops(plan: Plan, width: int) -> Iterator[str]:
    for check in plan.checks:
        if check.level == "stop":
            yield from folded(f"STOP: {check.message}", width, inset=2)


def _nothing_drawn(plan: Plan, width: int) -> Iterator[str]:
    if plan.stopped:
        yield "Nothing is drawn, because the plan stops:"
        yield from _stops(plan, width)
    else:
        yield "Nothing is drawn, because the plan has no marks."
