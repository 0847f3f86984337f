"""What the finished line carries: the weakest part first, then every part with its source, then the sum."""

from __future__ import annotations

from gearlog.domain.plan import ChainLink, Plan
from gearlog.tui.widgets.lines import Column, Line, Tone, heading, keyed, paragraph, table
from gearlog.tui.widgets.plan_figures import UNKNOWN, Figures

CARRIES_NOTHING = frozenset({"end", "finish"})
"""Shapes that leave the rope's own strength as it is."""


def strength(plan: Plan, width: int) -> tuple[Line, ...]:
    """Every part that carries the load, the weakest named; a finish carries nothing."""
    if plan.shape in CARRIES_NOTHING:
        words = "This only finishes the rope: it carries no load, and the rope's strength stays as it is."
        return (*heading("Strength"), *paragraph(words, width))
    return (
        *heading("Strength, part by part"),
        *keyed(paragraph(weakest_words(plan), width, tone=Tone.STRONG), "strength.chain"),
        *_chain(plan, width),
        *_factors(plan, width),
    )


def weakest_words(plan: Plan) -> str:
    """The weakest part and what it may hold, or what is unknown of it."""
    made = plan.strength
    link = weakest_link(plan)
    if link is None:
        return "Weakest part: unknown, for want of a breaking strength."
    force = Figures(plan).force
    holds = f"{_name(link, plan)} at {force(link.strength_n)}, working load limit {force(link.wll_n)}"
    unknown = [_name(each, plan) for each in made.chain if each.wll_n is None]
    if unknown:
        return f"Weakest part that is known: {holds}. Not known: {', '.join(unknown)}."
    return f"Weakest part: {holds}."


def weakest_link(plan: Plan) -> ChainLink | None:
    """The part that the plan names the weakest of those that are known."""
    named = plan.strength.weakest or ""
    return next((link for link in plan.strength.chain if named.partition(", of the parts")[0] == link.name), None)


def _chain(plan: Plan, width: int) -> tuple[Line, ...]:
    links = plan.strength.chain
    if not links:
        return ()
    columns = (Column("part"), Column("keeps", right=True), Column("holds", right=True), Column("WLL", right=True),
               Column("source"))  # fmt: skip
    weakest = weakest_link(plan)
    rows = [_link(link, plan, weakest=link is weakest) for link in links]
    keys = [f"strength.chain[{number}]" for number in range(len(links))]
    return table(columns, rows, width, keys=keys)


def _name(link: ChainLink, plan: Plan) -> str:
    return "this splice" if link.name == plan.method_title else link.name


def _link(link: ChainLink, plan: Plan, *, weakest: bool) -> tuple[str, ...]:
    figures = Figures(plan)
    kept = UNKNOWN if link.retained_fraction is None else f"{link.retained_fraction:.2f}"
    source = f"over {link.design_factor:g}; {link.source}"
    name = f"{'* ' if weakest else '  '}{_name(link, plan)}"
    return (name, kept, figures.force(link.strength_n), figures.force(link.wll_n), source)


def _factors(plan: Plan, width: int) -> tuple[Line, ...]:
    figures, made = Figures(plan), plan.strength
    kept = UNKNOWN if made.retained_fraction is None else f"{made.retained_fraction:.2f}"
    stated = "as typed" if made.mbs_n is not None else "not typed"
    rows = [
        ("strength.mbs_n", "breaking strength (MBS)", figures.force(made.mbs_n), stated),
        ("strength.retained_fraction", "kept by the splice", kept, made.retained_source or "no stated figure"),
        ("strength.design_factor", "over the design factor", f"{made.design_factor:g}", made.design_factor_source),
        ("strength.wll_n", "working load limit (WLL)", figures.force(made.wll_n), _limit_words(plan)),
    ]
    if made.condition_source:
        condition = f"{made.condition_fraction:.2f}"
        rows.insert(2, ("strength.condition_fraction", "kept in this condition", condition, made.condition_source))
    columns = (Column("at this splice"), Column("", right=True), Column("source"))
    return table(columns, [row[1:] for row in rows], width, keys=[row[0] if row[2] != UNKNOWN else "" for row in rows])


def _limit_words(plan: Plan) -> str:
    if plan.strength.wll_n is None:
        return "a factor above is unknown, so this is too"
    return f"the numbers above, for {plan.inputs.use.value}"
