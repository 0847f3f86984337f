"""Strength: every number with its source, the weakest part named, unknown where one of them is."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.plan import Plan, Strength
from gearlog.reports.card.content.sections import Column, Facts, Grid
from gearlog.reports.words import UNKNOWN, Tape, percent


def strength_facts(plan: Plan, tape: Tape) -> Facts:
    """The load that may be carried, and what it was worked out from."""
    return Facts("Strength", tuple(_strength(plan.strength, tape)))


def _strength(strength: Strength, tape: Tape) -> Iterator[tuple[str, str]]:
    yield "breaking strength of the rope", tape.force(strength.mbs_n)
    if strength.condition_source:
        yield "kept in this condition", f"{percent(strength.condition_fraction)}; {strength.condition_source}"
    yield "kept by the splice", _kept(strength)
    yield "design factor", f"{strength.design_factor:g}; {strength.design_factor_source or UNKNOWN}"
    yield "working load limit", _limit(strength, tape)
    yield "weakest part", strength.weakest or UNKNOWN


def _kept(strength: Strength) -> str:
    if strength.retained_fraction is None:
        return UNKNOWN
    return f"{percent(strength.retained_fraction)}; {strength.retained_source or UNKNOWN}"


def _limit(strength: Strength, tape: Tape) -> str:
    if strength.wll_n is None:
        return f"{UNKNOWN}, because a number that it needs is"
    return f"{tape.capacity(strength.wll_n)}, the weakest part's strength over its design factor, rounded down"


def chain_grid(plan: Plan, tape: Tape) -> Grid:
    """Each part that carries the load."""
    columns = (
        Column("part that carries", 30),
        Column("kept", 10, "number"),
        Column("holds", 14, "number"),
        Column("factor", 9, "number"),
        Column("limit", 14, "number"),
        Column("source", 23),
    )
    rows = tuple(
        (
            link.name,
            UNKNOWN if link.retained_fraction is None else percent(link.retained_fraction),
            tape.force(link.strength_n),
            f"{link.design_factor:g}",
            tape.capacity(link.wll_n),
            link.source or UNKNOWN,
        )
        for link in plan.strength.chain
    )
    return Grid("Strength along the chain", columns, rows)
