"""The words and lengths that stand in a drawing, on the tape that the plan was made for."""

from __future__ import annotations

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


def is_imperial(plan: Plan) -> bool:
    """Whether the plan is read with an inch tape."""
    return plan.inputs.unit is Unit.IMPERIAL


def length_of(plan: Plan, metres: float) -> str:
    """A length on the tape that the plan was made for."""
    return showing.length(metres, imperial=is_imperial(plan), parts=plan.inputs.tape_parts)


def span_names(plan: Plan, span: Span) -> tuple[str, str]:
    """A span's long name, which tells its length, and its short one."""
    name = visible(KIND_WORDS.get(span.kind, span.kind))
    if span.kind == "tucks" and plan.tucks is not None:
        name = f"{plan.tucks.count} tucks"
    return f"{name} {length_of(plan, span.to_m - span.from_m)}", name
