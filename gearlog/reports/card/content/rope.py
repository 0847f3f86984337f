"""The rope, the eye, the tools: what a card says about the work before any mark."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.constructions import construction
from gearlog.domain.fibres import fibre
from gearlog.domain.plan import Plan, RopeSpec
from gearlog.domain.vocabulary import label
from gearlog.errors import NotFoundError
from gearlog.reports.card.content.sections import Facts
from gearlog.reports.words import UNKNOWN, Tape


def work_facts(plan: Plan, tape: Tape) -> Facts:
    """The rope, what is made on it, the tools; nothing to cut by where the plan stops."""
    finish = (("finish", plan.finish),) if plan.finish and not plan.stopped else ()
    rows = (*_rope(plan, tape), *_work(plan, tape), *_tools(plan, tape), *finish)
    return Facts("Rope and work", rows)


def _tools(plan: Plan, tape: Tape) -> Iterator[tuple[str, str]]:
    at_hand = "; ".join(_tool(tool.name, tool.length_m, tool.thickness_m, tape) for tool in plan.inputs.tools)
    yield "tools needed", "; ".join(plan.tools) or "none named by the method"
    yield "tools at hand", at_hand or "none named"
    for part in plan.inputs.hardware:
        yield "hardware", f"{part.name}, {tape.force(part.strength_n)}"
    if plan.inputs.knots:
        yield "knots that stay in", ", ".join(plan.inputs.knots)


def _tool(name: str, length_m: float, thickness_m: float | None, tape: Tape) -> str:
    thick = f", {tape.diameter(thickness_m)} thick" if thickness_m is not None else ""
    return f"{name}, reaches {tape.length(length_m)}{thick}"


def _rope(plan: Plan, tape: Tape) -> Iterator[tuple[str, str]]:
    rope = plan.inputs.rope
    if rope.name:
        yield "name", rope.name
    if plan.inputs.end:
        yield "end", plan.inputs.end
    yield "construction", ", ".join(_construction(rope))
    core = f", core of {_fibre(rope.core_fibre)}" if rope.core_fibre else ""
    yield "fibre", f"{_fibre(rope.fibre)}{core}"
    yield "diameter", tape.diameter(rope.diameter_m)
    if plan.inputs.measured_diameter_m is not None:
        yield "measured diameter", tape.diameter(plan.inputs.measured_diameter_m)
    yield "condition", label(plan.inputs.condition)
    yield "used for", label(plan.inputs.use)
    yield "length", tape.length(rope.length_m)


def _construction(rope: RopeSpec) -> Iterator[str]:
    try:
        yield construction(rope.construction).title
    except NotFoundError:
        yield rope.construction
    if rope.strands:
        yield f"{rope.strands} strands"
    if rope.lay:
        yield f"{label(rope.lay)} lay"


def _fibre(name: str) -> str:
    try:
        return fibre(name).title if name else UNKNOWN
    except NotFoundError:
        return name


def _work(plan: Plan, tape: Tape) -> Iterator[tuple[str, str]]:
    inputs, eye = plan.inputs, plan.eye
    if inputs.eye_m is not None and (eye is not None or plan.stopped):
        yield "eye", f"{tape.length(inputs.eye_m)} inside, throat to crown, pulled flat"
    if inputs.eye_correction_m:
        yield "eye corrected by", f"{tape.exact(inputs.eye_correction_m)}, {inputs.correction_words or 'as typed'}"
    if inputs.pin_m is not None:
        yield "pin", tape.diameter(inputs.pin_m)
    if plan.stopped:
        return
    if eye is not None:
        yield "loop, throat to throat", tape.length(eye.circumference_m)
    if eye is not None and eye.pin_m is not None:
        yield from _on_pin(plan)
    yield from _lengths(plan, tape)


def _on_pin(plan: Plan) -> Iterator[tuple[str, str]]:
    eye = plan.eye
    if eye is None or eye.half_angle_deg is None or eye.leg_tension_ratio is None:
        yield "on the pin", "the eye does not go over it"
        return
    yield "angle at the throat", f"{2 * eye.half_angle_deg:.1f} degrees on this pin"
    yield "load in each leg", f"{eye.leg_tension_ratio:.3f} of the load on the rope"
    if eye.d_over_d is not None:
        yield "pin over rope", f"D/d {eye.d_over_d:.1f}"


def _lengths(plan: Plan, tape: Tape) -> Iterator[tuple[str, str]]:
    finished = plan.finished
    if finished is not None:
        wanted = "wanted" if finished.wanted else "from the rope's length"
        yield "finished length", f"{tape.length(finished.finished_m)} {finished.what}, {wanted}"
        yield "length to cut" if finished.wanted else "rope's length", tape.length(finished.shown_cut_m)
    if plan.shape == "sling" and plan.inputs.shortest_m is not None and plan.inputs.longest_m is not None:
        yield "range", f"{tape.length(plan.inputs.shortest_m)} to {tape.length(plan.inputs.longest_m)}"
    if plan.shown_used_m:
        yield "rope used", tape.length(plan.shown_used_m)
    if plan.shortening is not None:
        yield "shortening over the bury", tape.exact(plan.shortening.length_m)
