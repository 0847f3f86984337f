"""An endless adjustable sling: the channel in the working loop, the slack loop beside it; a sketch, not to scale."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from gearlog.domain.picture.labels import length_of
from gearlog.domain.picture.parts import spans_of
from gearlog.domain.plan import Plan, Span
from gearlog.splicing.pictures.canvas import Row, Stretch, stretch_rows
from gearlog.splicing.pictures.signs import GOES_ON, WHOLE
from gearlog.units.visible import folded, visible

BURIES = 3  # one of each end, and the channel between them
SIDE = 10  # columns from the picture's edge to the channel
EDGE = "-"
SAME = 1e-9  # m


@dataclass(frozen=True, slots=True)
class Endless:
    """What is drawn: the channel from column ``left`` to ``right``; ``inner`` and ``outer`` letter its mouths."""

    channel: Span
    left: int
    right: int
    inner: str
    outer: str
    join: str


def endless(plan: Plan, width: int) -> tuple[str, ...]:
    """The finished sling; nothing where the plan's stretches are not of that kind."""
    shape = _endless(plan, width)
    if shape is None or plan.finished is None:
        return ()
    what = (
        f"Finished, {length_of(plan, plan.finished.finished_m)} {visible(plan.finished.what)}; a sketch, not to scale:"
    )
    channel = f"channel {length_of(plan, shape.channel.to_m - shape.channel.from_m)}"
    return (
        *folded(what, width),
        *_slack(shape, width),
        *_working(shape, width),
        *stretch_rows([Stretch(shape.left, shape.right, f"{channel}, the rope in itself", channel)], width),
        *folded("The load draws the channel long, so that it grips the rope inside; in the slack loop there is none.",
                width),
        "",
    )  # fmt: skip


def _endless(plan: Plan, width: int) -> Endless | None:
    buries = spans_of(plan, "bury")
    if len(buries) != BURIES or len(spans_of(plan, "eye")) != 1:
        return None
    channel = buries[1]
    tails = [span.to_m if span.from_m <= SAME else span.from_m for span in spans_of(plan, "tail")]
    join = " ".join(letter for at_m in tails for letter in _letters_at(plan, at_m))
    inner, outer = (" ".join(_letters_at(plan, at_m)) for at_m in (channel.from_m, channel.to_m))
    return Endless(channel, SIDE, width - 1 - SIDE, inner, outer, join)


def _letters_at(plan: Plan, at_m: float) -> list[str]:
    return [visible(mark.letter) for mark in plan.marks if abs(mark.at_m - at_m) < SAME]


def _slack(shape: Endless, width: int) -> Iterator[str]:
    """The slack loop: from the mouth where the rope comes out back to the one where it goes in."""
    inner = shape.right - shape.left - 1
    words = f" slack loop, the join {shape.join} in it "
    yield _row(width, (shape.left, f".{words:{EDGE}^{inner}}."))
    yield _row(width, (shape.left, shape.inner), (shape.right, shape.outer))


def _working(shape: Endless, width: int) -> Iterator[str]:
    """The working loop: it runs into the channel at the left and goes on from its outside at the right."""
    inner, last = shape.right - shape.left - 1, width - 1
    edge = f".{EDGE * inner}."
    arrow = EDGE * (SIDE - 3) + GOES_ON
    yield _row(width, (shape.left, edge))
    yield _row(width, (1, f".{arrow}"), (shape.left, f" {WHOLE * inner} "), (shape.right + 1, f"{arrow}."))
    yield _row(width, (0, "/"), (shape.left, edge.replace(".", "'")), (last, "\\"))
    yield _row(width, (0, "|"), (SIDE, "working loop, pulled flat"), (last, "|"))
    yield _row(width, (0, "\\"), (last, "/"))
    yield _row(width, (1, f"'{EDGE * (width - 4)}'"))


def _row(width: int, *written: tuple[int, str]) -> str:
    row = Row(width)
    for column, text in written:
        row.write(column, text)
    return str(row)
