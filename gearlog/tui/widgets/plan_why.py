"""Why a plan's numbers are what they are: formula, values put in, and source of each."""

from __future__ import annotations

from gearlog.domain.plan import Mark, NamedLength, Plan
from gearlog.tui.widgets.lines import BLANK, Line, Tone, heading, paragraph
from gearlog.tui.widgets.plan_figures import Figures
from gearlog.tui.widgets.plan_view import source_words
from gearlog.units.visible import visible

FACT_WIDTH = 9  # cells; the longest name of a fact and two spaces


def why_page(plan: Plan, width: int) -> tuple[Line, ...]:
    """Every mark with its formula, the values put in and its source, then the lengths they rest on."""
    head = paragraph("A mark's letter goes to it.", width, tone=Tone.MUTED)
    return (
        *head,
        *(line for mark in plan.marks for line in _mark(plan, mark, width)),
        *_lengths(plan, width),
    )


def _mark(plan: Plan, mark: Mark, width: int) -> tuple[Line, ...]:
    where = f"{Figures(plan).length(mark.shown_m)} from the working end, on the {mark.part}"
    facts = (
        ("where", where),
        ("do", mark.do),
        ("formula", mark.formula),
        ("worked", mark.worked),
        ("source", source_words(mark.source, common=mark.common_practice)),
    )
    title = Line(visible(f"{mark.letter}  {mark.name}"), Tone.HEAD, mark.letter)
    return (
        BLANK,
        title,
        *(line for name, words in facts for line in paragraph(words, width, first=name.ljust(FACT_WIDTH))),
    )


def _lengths(plan: Plan, width: int) -> tuple[Line, ...]:
    """Every named length of the method: formula, values, source."""
    if not plan.lengths:
        return ()
    figures = Figures(plan)
    body = [line for length in plan.lengths for line in _length(length, figures, width)]
    return (*heading("The lengths that the marks rest on"), *body)


def _length(length: NamedLength, figures: Figures, width: int) -> tuple[Line, ...]:
    shown = figures.length(length.length_m if length.tape_m is None else length.tape_m)
    source = source_words(length.source, common=length.common_practice)
    return (
        *paragraph(f"{length.name} = {shown}, {length.title}", width, tone=Tone.STRONG),
        *paragraph(f"{length.formula} = {length.worked}", width, first="    "),
        *paragraph(source, width, first="    ", tone=Tone.MUTED),
    )
