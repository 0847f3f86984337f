"""Plain lines of what a plan tells beside marks and pulls: lengths both ways, fill, counts, tolerance, the chain."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.plan import ChainLink, Plan, Tolerance
from gearlog.reports.words import UNKNOWN, Tape, percent


def needed_tools(plan: Plan, tape: Tape) -> Iterator[str]:
    """What the method asks for."""
    del tape
    for tool in plan.tools:
        yield f"Tool needed: {tool}"


def finished(plan: Plan, tape: Tape) -> Iterator[str]:
    """Finished and cut length, which of them was asked for, and what the buries shorten."""
    found, over = plan.finished, plan.shortening
    if plan.inputs.shortest_m is not None and plan.shape == "sling":
        yield f"Shortest setting, crown to crown: {tape.exact(plan.inputs.shortest_m)}"
    if found is not None:
        asked = "as asked" if found.wanted else "from the rope's length"
        yield f"Finished length: {tape.exact(found.finished_m)}, {found.what}, {asked}"
        what = "Length to cut" if found.wanted else "Length of the rope"
        yield f"{what}: {tape.exact(found.cut_m, found.shown_cut_m)}"
        yield f"Formula of the {'cut' if found.wanted else 'finished'} length: {found.formula} = {found.worked}"
        yield f"Source of the sum: {found.source or UNKNOWN}"
    if over is not None:
        yield f"Shortening over all buries: {tape.exact(over.length_m)}"
        yield (
            f"Where a whole tail lies {over.ratio:.4f} of the length is left, at a braid angle of "
            f"{over.braid_angle_deg:g} degrees and a swelling of {over.swelling:.3f} times, source {over.source}"
        )


def fill(plan: Plan, tape: Tape) -> Iterator[str]:
    """What lies inside the standing part along the bury."""
    for point in plan.fill:
        where = f"{tape.exact(point.at_m)} from the {plan.origin}"
        yield f"Filled at {where}: {percent(point.fraction)} of what the braid holds"


def counts(plan: Plan, tape: Tape) -> Iterator[str]:
    """Turns and passes."""
    del tape
    for count in plan.counts:
        title = count.title[:1].upper() + count.title[1:]
        yield f"{title}: {count.count}, {count.formula}, source {count.source or UNKNOWN}"


def tolerances(plan: Plan, tape: Tape) -> Iterator[str]:
    """How far a measure may be off, and what it means when it is off further."""
    for what, found in (("A mark", plan.mark_tolerance), ("The eye", plan.eye_tolerance)):
        if found is not None:
            yield from _tolerance(what, found, tape)


def _tolerance(what: str, found: Tolerance, tape: Tape) -> Iterator[str]:
    yield f"{what} may be off by {tape.exact(found.within_m)}, source {found.source or UNKNOWN}"
    yield f"{what} that is shorter: {found.if_short}"
    yield f"{what} that is longer: {found.if_long}"


def chain(plan: Plan, tape: Tape) -> Iterator[str]:
    """Each part that carries the load, and the weakest."""
    strength = plan.strength
    for link in strength.chain:
        yield f"Part, {link.name}: {_part(link, tape)}"
    if strength.weakest is not None:
        yield f"Weakest part: {strength.weakest}"


def _part(link: ChainLink, tape: Tape) -> str:
    if link.strength_n is None or link.wll_n is None:
        return f"what it holds is {UNKNOWN}, {link.source}"
    holds = f"holds {tape.force(link.strength_n)}"
    if link.retained_fraction is not None:
        holds += f", {percent(link.retained_fraction)} of the rope's strength"
    factor = f"over a design factor of {link.design_factor:g}"
    return f"{holds}, may carry {tape.capacity(link.wll_n)} {factor}, source {link.source}"
