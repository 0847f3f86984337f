"""A plan as a picture of plain characters: the rope as it lies, the finished splice, the marks explained.

Every position is to scale within half a column. Only signs of one cell are used, so that the picture
stands on any terminal, on paper and on a screen in daylight.
"""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.plan import Plan
from gearlog.splicing.finished import finished
from gearlog.splicing.labels import length_of
from gearlog.splicing.lying import EYE, GOES_ON, STRANDS, TUCKS, lying
from gearlog.splicing.thickness import span_of
from gearlog.units.visible import cells, folded, visible

LEAST_WIDTH = 60  # columns; below it the parts cannot be told apart
SIGN_WORDS = (
    ("#", "whole", ()),
    ("=", "thinner", ("taper", "core-taper")),
    ("-", "about half", ("taper", "core-taper")),
    (".", "a third or less", ("taper", "core-taper")),
    (EYE, "becomes the eye", ("eye",)),
    (STRANDS, "strands opened", ("unlay",)),
    (TUCKS, "tucked", ("tucks",)),
    (GOES_ON, "goes on", ()),
)
"""A sign, what it means, and the spans it is used for; none means every picture."""


def draw(plan: Plan, width: int) -> tuple[str, ...]:
    """The plan's picture, never wider than ``width`` (60 at least); why there is none when the plan stops."""
    width = max(width, LEAST_WIDTH)
    if not plan.marks and not plan.spans:
        return tuple(_nothing_drawn(plan, width))
    pictures = (*_stops(plan, width), *lying(plan, width), *finished(plan, width))
    return (*pictures, *legend(plan, width), *_signs(plan, width))


def legend(plan: Plan, width: int) -> tuple[str, ...]:
    """Every letter explained: distance from the working end, part, name."""
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


def _signs(plan: Plan, width: int) -> Iterator[str]:
    """The signs explained, no sign parted from its meaning."""
    line = "Signs:"
    for shown, meaning, kinds in SIGN_WORDS:
        if kinds and not any(span_of(plan, kind) for kind in kinds):
            continue
        words = f" {shown} {meaning};"
        if len(line + words) > width:
            yield line
            line = " "
        line += words
    yield line.removesuffix(";")


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
