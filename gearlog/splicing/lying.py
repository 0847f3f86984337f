"""The rope as it lies before the splice: to scale from the working end, marks where the tape lies."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.plan import Plan, Span
from gearlog.splicing.canvas import Row, Scale, Stretch, letter_rows, ruler, stretch_rows
from gearlog.splicing.labels import is_imperial, span_names
from gearlog.splicing.thickness import core_left, sign, span_of, tail_left
from gearlog.units.visible import cells, visible

BEYOND = 4  # columns of rope drawn past the last mark
GOES_ON, ENDS = ">", "]"
EYE, STRANDS, TUCKS = "o", "~", "x"
ALONE = (("unlay", STRANDS), ("eye", EYE), ("tucks", TUCKS))  # spans drawn with a sign of their own


def lying(plan: Plan, width: int) -> tuple[str, ...]:
    """The rope laid straight, the working end at the left; below it what each stretch becomes."""
    scale = lying_scale(plan, width)
    letters = [(scale.column(mark.at_m), visible(mark.letter)) for mark in plan.marks]
    return (
        "As it lies, working end at the left, lengths from there:",
        *letter_rows(letters, width),
        *_main_part(plan, scale, width),
        *_core_part(plan, scale, width),
        *ruler(scale, width, imperial=is_imperial(plan)),
        "",
    )


def lying_scale(plan: Plan, width: int) -> Scale:
    """The scale of the rope as it lies: the last mark or span ends a few columns from the right edge."""
    last = max((*(mark.at_m for mark in plan.marks), *(span.to_m for span in _worked(plan))), default=0.0)
    left = max(cells(name) for name in (_main_name(plan), "core")) + 1
    columns = width - 1 - left - BEYOND
    return Scale(left, last / columns if last > 0 else 1.0)


def _worked(plan: Plan) -> list[Span]:
    """All spans but the rope that only goes on, which would make the rest too small to see."""
    return [span for span in plan.spans if span.kind != "standing"]


def _main_name(plan: Plan) -> str:
    spans = [span for span in plan.spans if span.part != "core"]
    main = next((span for span in spans if span.kind == "eye"), spans[0] if spans else None)
    return visible(main.part) if main else "rope"


def _main_part(plan: Plan, scale: Scale, width: int) -> Iterator[str]:
    row, end = Row(width), _rope_end(plan, scale, width)
    row.write(0, _main_name(plan))
    for column in range(scale.left, end):
        row.write(column, _sign_at(plan, scale, column))
    row.write(end, GOES_ON if end == width - 1 else ENDS)
    yield str(row)
    yield from stretch_rows(_stretches(plan, scale, core=False), width)


def _rope_end(plan: Plan, scale: Scale, width: int) -> int:
    """The column where the rope ends, or the right edge when it goes on or its length is unknown."""
    length = plan.inputs.rope.length_m
    return width - 1 if length is None else min(scale.column(length), width - 1)


def _sign_at(plan: Plan, scale: Scale, column: int) -> str:
    for kind, shown in ALONE:
        span = span_of(plan, kind)
        if span is not None and scale.column(span.from_m) <= column < scale.column(span.to_m):
            return shown
    return sign(tail_left(plan, scale.at(column)))


def _core_part(plan: Plan, scale: Scale, width: int) -> Iterator[str]:
    """The core by itself, where the plan works on it; blank where it is taken out."""
    if not any(span.part == "core" for span in plan.spans):
        return
    row = Row(width)
    row.write(0, "core")
    for column in range(scale.left, width - 1):
        row.write(column, sign(core_left(plan, scale.at(column))))
    row.write(width - 1, GOES_ON)
    yield str(row)
    yield from stretch_rows(_stretches(plan, scale, core=True), width)


def _stretches(plan: Plan, scale: Scale, *, core: bool) -> list[Stretch]:
    chosen = [span for span in _worked(plan) if (span.part == "core") is core]
    return [Stretch(scale.column(span.from_m), scale.column(span.to_m), *span_names(plan, span)) for span in chosen]
