"""What a plan answers before its marks, and what only some methods tell: counts, shortening, fill, tools."""

from __future__ import annotations

from gearlog.domain.plan import Finished, Plan
from gearlog.tui.widgets.big import big
from gearlog.tui.widgets.lines import BLANK, Column, Line, Tone, heading, keyed, paragraph, table
from gearlog.tui.widgets.plan_figures import Figures

INSET = "    "


def answer(plan: Plan, width: int) -> tuple[Line, ...]:
    """The length that was asked for, large, rounded as the marks are; a plan that stops gives none to cut by."""
    made = plan.finished
    if made is None or plan.stopped:
        return ()
    figures = Figures(plan)
    asked, answered = ("finished", "cut") if made.wanted else ("cut", "finished")
    lengths = {"finished": figures.length(made.finished_m), "cut": figures.length(made.shown_cut_m)}
    rows = tuple(Line(f"  {row}", Tone.STRONG) for row in big(lengths[answered]))
    return (
        Line(f"{answered.upper()} LENGTH {lengths[answered]}", Tone.HEAD, "finished"),
        BLANK,
        *rows,
        BLANK,
        *paragraph(f"for a {asked} length of {lengths[asked]}, {made.what}", width),
        *_sum(made, width),
        BLANK,
    )


def _sum(made: Finished, width: int) -> tuple[Line, ...]:
    return (
        *paragraph(f"{made.formula} = {made.worked}", width, first=INSET, tone=Tone.MUTED),
        *paragraph(made.source, width, first=INSET, tone=Tone.MUTED),
    )


def counts(plan: Plan, width: int) -> tuple[Line, ...]:
    """Turns, passes and the like, each with its source."""
    if not plan.counts:
        return ()
    rows = [(count.title, str(count.count), f"{count.formula}; {count.source}") for count in plan.counts]
    keys = [f"counts[{number}]" for number in range(len(rows))]
    columns = (Column("turns and passes"), Column("", right=True), Column("from"))
    return (*heading("Counts"), *table(columns, rows, width, keys=keys))


def lengths(plan: Plan, width: int) -> tuple[Line, ...]:
    """The named lengths on the user's tape: what a drawing does not tell, such as the twine to cut."""
    if not plan.lengths:
        return ()
    figures = Figures(plan)
    told = [
        f"{one.title}: {figures.length(one.length_m if one.tape_m is None else one.tape_m)}" for one in plan.lengths
    ]
    listed = (keyed(paragraph(words, width, first="- "), f"lengths[{number}]") for number, words in enumerate(told))
    return (*heading("Lengths"), *(line for lines in listed for line in lines))


def shortening(plan: Plan, width: int) -> tuple[Line, ...]:
    """How much the standing part shortens over what is buried, and whether that was measured."""
    made = plan.shortening
    if made is None:
        return ()
    length = Figures(plan).length(made.length_m)
    words = (
        f"{length} over what is buried: there the rope is {made.ratio:.3f} of its length, at a braid angle of "
        f"{made.braid_angle_deg:.1f} deg and a swelling of {made.swelling:.2f} times"
    )
    return (
        *heading("Shortening"),
        *keyed(paragraph(words, width), "shortening"),
        *paragraph(f"{_known_by(plan)}: {made.source}", width, first=INSET, tone=Tone.MUTED),
    )


def _known_by(plan: Plan) -> str:
    inputs = plan.inputs
    typed = [inputs.braid_angle_deg or inputs.rope.pick_length_m, inputs.swelling]
    if all(typed):
        return "measured"
    return "partly measured, partly a default" if any(typed) else "a default, not measured on this rope"


def tools(plan: Plan, width: int) -> tuple[Line, ...]:
    """The tools that the method asks for."""
    if not plan.tools:
        return ()
    return (*heading("Tools"), *(line for tool in plan.tools for line in paragraph(tool, width, first="- ")))
