"""The stretches of a planned rope: which are drawn, on which part, and where the rope ends (all m)."""

from __future__ import annotations

from gearlog.domain.plan import Plan, Span

CORE, STRAND = "core", "strand"
THROAT = "throat"  # an origin of distances that is not an end of the rope
TAPERED_TUCKS = "tapered-tucks"
NEVER_BARRED = "standing"  # rope that only goes on: it is drawn, but nothing is done to it
CUT_PIECES = frozenset({"eye", "cord", "loop", "sling"})  # shapes whose cut length is one piece of rope
ALIKE = frozenset({"cord", "loop", "sling"})  # shapes whose far end is worked like the first one
PASSES, TURNS = "passes", "whip_turns"  # names of counts that the drawing of a finish tells


def shown_spans(plan: Plan) -> tuple[Span, ...]:
    """Every stretch that is named under a drawing, tapered tucks among them."""
    named = tuple(span for span in plan.spans if span.kind != NEVER_BARRED)
    last = span_of(plan, "tucks")
    if plan.tucks is None or not plan.tucks.tapered or last is None:
        return named
    end = last.to_m + plan.tucks.tapered * plan.tucks.tuck_m
    return (*named, Span(kind=TAPERED_TUCKS, part=last.part, from_m=last.to_m, to_m=end))


def spans_of(plan: Plan, kind: str) -> tuple[Span, ...]:
    """All stretches of this kind, in the plan's order."""
    return tuple(span for span in shown_spans(plan) if span.kind == kind)


def span_of(plan: Plan, kind: str) -> Span | None:
    """The first stretch of this kind, or None."""
    return next((span for span in plan.spans if span.kind == kind), None)


def main_part(plan: Plan) -> str:
    """The part that is drawn first: the one that the eye is made of, or that the first stretch lies on."""
    eye = span_of(plan, "eye")
    spans = [eye] if eye else [span for span in plan.spans if span.part != STRAND]
    return spans[0].part if spans else "rope"


def is_round_both_legs(plan: Plan) -> bool:
    """Whether the turns go round two ropes side by side, as a seizing at the throat does."""
    return plan.origin == THROAT and bool(count_of(plan, TURNS)) and not count_of(plan, PASSES)


def has_core(plan: Plan) -> bool:
    """Whether the core is drawn by itself beside the main part."""
    return main_part(plan) != CORE and any(span.part == CORE for span in plan.spans)


def reach_m(plan: Plan) -> float:
    """The last place that the plan names."""
    return max((*(mark.at_m for mark in plan.marks), *(span.to_m for span in shown_spans(plan))), default=0.0)


def end_m(plan: Plan) -> float | None:
    """Where the rope ends on the far side, or None where that is not known or lies on another rope."""
    if plan.finished is not None and plan.shape in CUT_PIECES:
        return plan.finished.cut_m
    return plan.inputs.rope.length_m


def count_of(plan: Plan, name: str) -> int | None:
    """A number of turns or passes by its name, or None."""
    return next((count.count for count in plan.counts if count.name == name), None)


def is_exchange(plan: Plan) -> bool:
    """Whether strands are laid into each other's place, as in a long splice, with no full tucks counted."""
    return plan.shape == "join" and plan.tucks is None and span_of(plan, "tucks") is not None


def is_milked(plan: Plan) -> bool:
    """Whether the cover is drawn over a bury in the core, so that places on one do not tell places on the other."""
    bury = span_of(plan, "bury")
    return has_core(plan) and bury is not None and bury.part == CORE
