"""What only some methods tell: turns and passes, finished length, shortening, fill, the chain that carries."""

from __future__ import annotations

from gearlog.domain.plan import ChainLink, Plan
from gearlog.tui.widgets.lines import Column, Line, heading, paragraph, table
from gearlog.tui.widgets.plan_figures import UNKNOWN, Figures

FULL = 1.0  # a whole tail or a whole core lies inside


def extras(plan: Plan, width: int) -> tuple[Line, ...]:
    """Every such section that the plan has."""
    sections = (counts, finished, fill, shortening, chain, tools)
    return tuple(line for section in sections for line in section(plan, width))


def counts(plan: Plan, width: int) -> tuple[Line, ...]:
    """Turns, passes and the like, each with its source."""
    if not plan.counts:
        return ()
    rows = [(count.title, str(count.count), f"{count.formula}; {count.source}") for count in plan.counts]
    return (*heading("Counts"), *table((Column(""), Column("", right=True), Column("from")), rows, width))


def finished(plan: Plan, width: int) -> tuple[Line, ...]:
    """The finished length and the cut length that gives it."""
    made = plan.finished
    if made is None:
        return ()
    figures = Figures(plan)
    asked, follows = ("finished", "cut") if made.wanted else ("cut", "finished")
    lengths = {"finished": figures.length(made.finished_m), "cut": figures.length(made.cut_m)}
    words = f"{made.what}: {asked} length {lengths[asked]} gives a {follows} length of {lengths[follows]}"
    return (
        *heading("Finished length"),
        *paragraph(words, width),
        *paragraph(f"{made.formula} = {made.worked}", width, first="    "),
        *paragraph(made.source, width, first="    "),
    )


def fill(plan: Plan, width: int) -> tuple[Line, ...]:
    """What lies inside the standing part: how full at most, and the largest step."""
    if not plan.fill:
        return ()
    figures = Figures(plan)
    fullest = max(plan.fill, key=lambda point: point.fraction)
    steps = [abs(after.fraction - point.fraction) for point, after in zip(plan.fill, plan.fill[1:], strict=False)]
    words = (
        f"fullest at {figures.place(fullest.at_m)}: {fullest.fraction / FULL:.0%} of a whole tail or core; "
        f"the largest step is {max(steps, default=0.0):.0%}"
    )
    return (*heading("Inside the standing part"), *paragraph(words, width))


def shortening(plan: Plan, width: int) -> tuple[Line, ...]:
    """How much the standing part shortens over what is buried."""
    made = plan.shortening
    if made is None:
        return ()
    words = (
        f"{Figures(plan).length(made.length_m)} over what is buried: to {made.ratio:.3f} of its length, at a braid "
        f"angle of {made.braid_angle_deg:.1f} deg and a swelling of {made.swelling:.2f} ({made.source})"
    )
    return (*heading("Shortening"), *paragraph(words, width))


def chain(plan: Plan, width: int) -> tuple[Line, ...]:
    """Every part that carries the load, the weakest named."""
    links = plan.strength.chain
    if not links:
        return ()
    columns = (Column("carries"), Column("kept", right=True), Column("strength", right=True),
               Column("WLL", right=True), Column("source"))  # fmt: skip
    rows = [_link(link, Figures(plan)) for link in links]
    weakest = f"weakest stated: {plan.strength.weakest}" if plan.strength.weakest else "weakest: unknown"
    return (*heading("What carries the load"), *table(columns, rows, width), *paragraph(weakest, width))


def _link(link: ChainLink, figures: Figures) -> tuple[str, ...]:
    kept = UNKNOWN if link.retained_fraction is None else f"{link.retained_fraction:.2f}"
    source = f"over {link.design_factor:g}; {link.source}"
    return (link.name, kept, figures.force(link.strength_n), figures.force(link.wll_n), source)


def tools(plan: Plan, width: int) -> tuple[Line, ...]:
    """The tools that the method asks for."""
    if not plan.tools:
        return ()
    return (*heading("Tools"), *(line for tool in plan.tools for line in paragraph(tool, width, first="- ")))
