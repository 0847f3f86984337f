"""The rope as it lies, to scale: a band with what each stretch becomes, tapers, marks, stretches and a ruler."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from gearlog.domain.picture.axis import Axis, Page, Piece, fitted
from gearlog.domain.picture.labels import ALIKE_WORDS, is_imperial, length_of, origin_words, span_names
from gearlog.domain.picture.parts import (
    CORE,
    THROAT,
    TURNS,
    count_of,
    end_m,
    has_core,
    is_round_both_legs,
    main_part,
    reach_m,
    shown_spans,
)
from gearlog.domain.picture.sections import Sections, sections_of, strands_left
from gearlog.domain.plan import Plan, Span
from gearlog.reports.card.vector.bands import outlined
from gearlog.reports.card.vector.figure import SMALL, TEXT, Figure, Part, Words, line, moved, text_lines
from gearlog.reports.card.vector.layout import ROW, Stretch, cut_sign, lettered, mark_lines, named, ruler
from gearlog.reports.card.vector.patterns import Band, drawn, pattern_of
from gearlog.units.visible import visible

LEFT = 14.0  # mm; room for the name of the part
BEYOND = 6.0  # mm of rope drawn past the last mark
NARROW, KEEP, SIGN = 9.0, 6.0, 3.0  # mm; see ``Page``
HIGH = 5.0  # mm; a band of rope
GAP = 1.5  # mm between the parts of the figure
TWO = 2  # pieces of a rope cut through once


@dataclass(frozen=True, slots=True)
class Sheet:
    """A plan on a sheet of ``width`` (mm) with its axis and sections."""

    plan: Plan
    width: float
    axis: Axis
    sections: Sections

    @property
    def goes_on(self) -> bool:
        """Whether the rope goes on beyond the sheet."""
        end = end_m(self.plan)
        return end is None or self.axis.place(end) > self.width - BEYOND / 2

    @property
    def right(self) -> float:
        """Where the drawn rope ends (mm)."""
        end = end_m(self.plan)
        return self.width - BEYOND / 2 if end is None or self.goes_on else self.axis.place(end)


def lying_axis(plan: Plan, width: float) -> Axis:
    """Where every distance lies on the sheet (mm)."""
    last = reach_m(plan)
    if last <= 0:
        return Axis(1.0, (Piece(0.0, 0.0, LEFT),))
    places = [mark.at_m for mark in plan.marks]
    places += [place for span in shown_spans(plan) for place in (span.from_m, span.to_m)]
    lengths = [span.to_m - span.from_m for span in shown_spans(plan)]
    return fitted(places, lengths, Page(LEFT, width - LEFT - BEYOND, NARROW, KEEP, SIGN))


def lying(plan: Plan, width: float) -> Figure:
    """The figure, its title above it."""
    sheet = Sheet(plan, width, lying_axis(plan, width), sections_of(plan))
    letters = lettered((sheet.axis.place(mark.at_m), visible(mark.letter)) for mark in plan.marks)
    top = ROW + letters.height
    rope, names, bottom = _below(sheet, top)
    measure = ruler(sheet.axis, LEFT, sheet.width, imperial=is_imperial(plan))
    parts = (
        Words(0.0, SMALL, _title(plan), SMALL, bold=True),
        *rope,
        *moved(mark_lines(letters, bottom - ROW), ROW),
        *names,
        *moved(measure.parts, bottom + GAP),
    )
    height = bottom + GAP + measure.height
    words = text_lines(_left_out(sheet), width, SMALL) if sheet.axis.cuts() else []
    words += [ALIKE_WORDS] if plan.inputs.both_ends else []
    cut = [Words(0.0, height + (number + 1) * ROW, text, SMALL) for number, text in enumerate(words)]
    return Figure(width, height + len(words) * ROW, (*parts, *cut))


def _title(plan: Plan) -> str:
    origin = origin_words(plan)
    if plan.shape == "join":
        return f"As each of the two ropes lies, from {origin}; the marks hold for both"
    return f"As it lies, lengths from {origin}, to scale"


def _left_out(sheet: Sheet) -> str:
    lengths = ", ".join(length_of(sheet.plan, length) for length in sheet.axis.left_out_m())
    order = " from left to right" if len(sheet.axis.pieces) > TWO else ""
    return f"Cut through, all of it to one scale; left out{order}: {lengths}."


def _below(sheet: Sheet, top: float) -> tuple[list[Part], list[Part], float]:
    """The rope and the core, the names of their stretches, and how far down they reach."""
    rope, y = list(_band(sheet, top, core=False)), top + HIGH + GAP
    if is_round_both_legs(sheet.plan):
        rope, y = [*rope, *moved(rope, HIGH)], y + HIGH
    names: list[Part] = []
    for core in (False, True):
        if core and not has_core(sheet.plan):
            continue
        if core:
            rope += _band(sheet, y, core=True)
            y += HIGH + GAP
        stretches = named(_stretches(sheet, core=core), sheet.width)
        names += moved(stretches.parts, y)
        y += stretches.height + GAP
    return rope, names, y


def _band(sheet: Sheet, top: float, *, core: bool) -> Iterator[Part]:
    """One part of the rope from the sheet's left to its end, with patterns, tapers and cuts."""
    plan, bottom = sheet.plan, top + HIGH
    yield Words(0.0, bottom - HIGH / 4, visible(CORE if core else main_part(plan)), TEXT)
    left = LEFT - SIGN if plan.origin == THROAT else LEFT
    thickness = sheet.sections.core_left if core else lambda at_m: _main_left(sheet, at_m)
    yield from outlined(sheet.axis, (left, sheet.right), (top, bottom), thickness, _places(sheet))
    for span in plan.spans:
        if (has_core(plan) and span.part == CORE) is core:
            yield from _patterned(sheet, span, top)
    for start, stop in _cuts(sheet):
        yield from cut_sign(start, stop, top, bottom)


def _cuts(sheet: Sheet) -> Iterator[tuple[float, float]]:
    """Where the rope is cut through on the sheet, and where it goes on beyond it."""
    if sheet.plan.origin == THROAT:
        yield LEFT - SIGN * 1.5, LEFT - SIGN / 2
    if sheet.goes_on:
        yield sheet.right - SIGN / 2, sheet.right + SIGN / 2
    yield from sheet.axis.cuts()


def _main_left(sheet: Sheet, at_m: float) -> float:
    return min(sheet.sections.tail_left(at_m), strands_left(sheet.plan, at_m))


def _places(sheet: Sheet) -> list[float]:
    """Where the thickness may change (m)."""
    tucks = [step.at_m for step in sheet.plan.taper] + [span.to_m for span in shown_spans(sheet.plan)]
    return [*sheet.sections.changes(), *tucks]


def _patterned(sheet: Sheet, span: Span, top: float) -> Iterator[Part]:
    band = Band(sheet.axis.place(span.from_m), top, sheet.axis.place(span.to_m), top + HIGH)
    pattern = pattern_of(sheet.plan, span.kind)
    yield from drawn(pattern, band, count_of(sheet.plan, TURNS) or 0)
    if pattern:
        yield from (line(x, band.top, x, band.bottom) for x in (band.left, band.right))


def _stretches(sheet: Sheet, *, core: bool) -> list[Stretch]:
    place = sheet.axis.place
    chosen = [span for span in shown_spans(sheet.plan) if (has_core(sheet.plan) and span.part == CORE) is core]
    return [Stretch(place(span.from_m), place(span.to_m), *span_names(sheet.plan, span)) for span in chosen]
