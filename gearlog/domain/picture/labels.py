"""The words and lengths that stand in a drawing, on the tape that the plan was made for."""

from __future__ import annotations

from gearlog.domain.picture.parts import PASSES, TAPERED_TUCKS, TURNS, count_of, is_exchange
from gearlog.domain.plan import Plan, Span
from gearlog.domain.vocabulary import Unit
from gearlog.units import showing
from gearlog.units.visible import visible

KIND_WORDS = {
    "eye": "loop",
    "core-taper": "core taper",
    "unlay": "strands unlaid",
    "standing": "standing part",
}
ALIKE_WORDS = "The other end is made alike, its marks told from that end."
MILKED = (
    "The finished splice is not drawn inside: the cover is milked over the core, and how far depends on the rope. "
    "Which marks meet is told in the steps."
)


def is_imperial(plan: Plan) -> bool:
    """Whether the plan is read with an inch tape."""
    return plan.inputs.unit is Unit.IMPERIAL


def length_of(plan: Plan, metres: float) -> str:
    """A length on the tape that the plan was made for."""
    return showing.length(metres, imperial=is_imperial(plan), parts=plan.inputs.tape_parts)


def span_names(plan: Plan, span: Span) -> tuple[str, str]:
    """A stretch's long name, which tells its length, and its short one."""
    name = visible(_name(plan, span))
    return f"{name} {length_of(plan, _long(plan, span))}", name


def _long(plan: Plan, span: Span) -> float:
    """How long a stretch is (m): between marks as the tape shows them, so that it agrees with the table of marks."""
    shown = {0.0: 0.0} | {mark.at_m: mark.shown_m for mark in plan.marks}
    if span.from_m in shown and span.to_m in shown:
        return shown[span.to_m] - shown[span.from_m]
    return span.to_m - span.from_m


def _name(plan: Plan, span: Span) -> str:
    if span.kind == "tucks":
        return _tucks(plan)
    if span.kind == TAPERED_TUCKS and plan.tucks is not None:
        return f"{plan.tucks.tapered} tapered tucks"
    if span.kind == "whip":
        passes, turns = count_of(plan, PASSES), count_of(plan, TURNS)
        return f"{passes} passes" if passes else f"{turns} turns" if turns else "turns"
    return KIND_WORDS.get(span.kind, span.kind)


def _tucks(plan: Plan) -> str:
    """Tucks of one side; where none are counted in a join, strands change places."""
    if plan.tucks is None:
        return "strands exchanged" if is_exchange(plan) else "tucks"
    return f"{plan.tucks.count // max(plan.tucks.sides, 1)} tucks"


def origin_words(plan: Plan) -> str:
    """Where the distances begin, with its article."""
    return f"the {visible(plan.origin)}"
