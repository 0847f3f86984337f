"""A plan as plain lines, one fact a line; a number never stands without its source."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.plan import Check, Plan, Strength
from gearlog.domain.vocabulary import label
from gearlog.reports.plain_lengths import chain, counts, fill, finished, needed_tools, tolerances
from gearlog.reports.words import LEVEL_WORDS, UNKNOWN, Tape, percent, plural, sourced
from gearlog.units.visible import visible


def plan_lines(plan: Plan) -> tuple[str, ...]:
    """Method, rope, eye, lengths, marks, what is cut, pulled and tucked, strength, checks, steps, sources, cautions."""
    parts = (
        _head, _rope, needed_tools, _eye, finished, _marks, _taper, fill, _pulls, _tucks, counts, _pin, _strength,
        chain, _checks, _steps, tolerances, _sources, _cautions,
    )  # fmt: skip
    tape = Tape.of(plan.inputs)
    return tuple(visible(line) for part in parts for line in part(plan, tape))


def _head(plan: Plan, tape: Tape) -> Iterator[str]:
    own = ", own, experimental" if plan.own else ""
    yield f"Plan: {plan.method_title}"
    yield f"Method: {plan.method}, version {plan.method_version}{own}"
    counts = {level: sum(check.level == level for check in plan.checks) for level in LEVEL_WORDS}
    if plan.stopped:
        yield f"Verdict: STOP, do not make this splice; {plural(counts['stop'], 'reason')} among the checks below"
    else:
        yield f"Verdict: nothing stops it; {plural(counts['warn'], 'warning')}, {plural(counts['note'], 'note')} below"


def _rope(plan: Plan, tape: Tape) -> Iterator[str]:
    rope = plan.inputs.rope
    if rope.name:
        yield f"Rope: {rope.name}" + (f", end {plan.inputs.end}" if plan.inputs.end else "")
    strands = f", {rope.strands} strands" if rope.strands else ""
    lay = f", {label(rope.lay)}" if rope.lay else ""
    yield f"Construction: {rope.construction}{strands}{lay}"
    core = f", core of {rope.core_fibre}" if rope.core_fibre else ""
    yield f"Fibre: {rope.fibre or UNKNOWN}{core}"
    yield f"Diameter: {tape.diameter(rope.diameter_m)}"
    yield f"Condition: {label(plan.inputs.condition)}"
    yield f"Used for: {label(plan.inputs.use)}"


def _eye(plan: Plan, tape: Tape) -> Iterator[str]:
    if plan.inputs.eye_m is not None:
        yield f"Eye: {tape.exact(plan.inputs.eye_m)} inside, from throat to crown, pulled flat"
    if plan.eye is not None:
        yield f"Loop between the two throat marks: {tape.exact(plan.eye.circumference_m)}"
    if plan.rope_used_m is not None:
        up_to = " from the working end to the throat" if plan.shape == "eye" else ""
        yield f"Rope used{up_to}: {tape.exact(plan.rope_used_m, plan.shown_used_m)}"


def _marks(plan: Plan, tape: Tape) -> Iterator[str]:
    for mark in plan.marks:
        where = f"{tape.exact(mark.at_m, mark.shown_m)} from the {plan.origin}, on the {mark.part}"
        yield f"Mark {mark.letter}: {where}, {mark.name}"
        if mark.do:
            yield f"At mark {mark.letter}: {mark.do}"
        yield f"Formula of mark {mark.letter}: {mark.formula} = {mark.worked}"
    for length in plan.lengths:
        yield f"Length {length.name}: {tape.exact(length.length_m, length.tape_m)}, {length.formula} = {length.worked}"


def _taper(plan: Plan, tape: Tape) -> Iterator[str]:
    for number, step in enumerate(plan.taper, 1):
        left = f"{plural(step.strands_left, 'strand')} left, {percent(step.fraction_left)} of the section"
        where = f"{tape.exact(step.at_m, step.shown_m)} from the {plan.origin}, on the {step.part}"
        picks = "" if step.picks is None else f", {plural(step.picks, 'pick')} from where the taper begins"
        yield f"Taper cut {number}: {where}{picks}, {left}"


def _pulls(plan: Plan, tape: Tape) -> Iterator[str]:
    for number, pull in enumerate(plan.pulls, 1):
        ends = f"in at {tape.exact(pull.from_m, pull.shown_from_m)}, out at {tape.exact(pull.to_m, pull.shown_to_m)}"
        way = f"{ends}, {tape.exact(pull.length_m, pull.shown_length_m)} long"
        yield f"Pull {number}: the {pull.part}, {way}, with {pull.tool or 'a tool that is not named'}"


def _tucks(plan: Plan, tape: Tape) -> Iterator[str]:
    tucks = plan.tucks
    if tucks is None:
        return
    yield f"Tucks: {tucks.count} full tucks, source {tucks.source or UNKNOWN}"
    yield f"One full tuck: {tape.exact(tucks.tuck_m)} along the rope"
    yield f"Unlay: {tape.exact(tucks.unlay_m)}, source {tucks.unlay_source or UNKNOWN}"
    if tucks.tapered:
        yield f"Tapered tucks: {tucks.tapered} more, each strand thinned, source {tucks.tapered_source or UNKNOWN}"
    yield f"Tail beyond the last full tuck: {tape.exact(tucks.tail_m)}, source {tucks.tail_source or UNKNOWN}"


def _pin(plan: Plan, tape: Tape) -> Iterator[str]:
    eye = plan.eye
    if eye is None:
        return
    if eye.pin_m is None:
        yield "Pin: none named, so how the eye sits on one is unknown"
        return
    yield f"Pin: {tape.diameter(eye.pin_m)}"
    if eye.half_angle_deg is None or eye.leg_tension_ratio is None:
        yield "Eye on the pin: it does not go over it"
        return
    if eye.contact_arc_m is not None:
        yield f"Loop that lies on the pin: {tape.exact(eye.contact_arc_m)}"
    yield f"Angle between the eye's legs at the throat: {2 * eye.half_angle_deg:.1f} degrees"
    yield f"Load in each leg of the eye: {eye.leg_tension_ratio:.3f} of the load on the rope"
    if eye.d_over_d is not None:
        yield f"Pin diameter over rope diameter: {eye.d_over_d:.1f}"


def _strength(plan: Plan, tape: Tape) -> Iterator[str]:
    strength = plan.strength
    yield f"Breaking strength of the rope: {tape.force(strength.mbs_n)}"
    if strength.condition_source:
        yield f"Kept in this condition: {percent(strength.condition_fraction)}, source {strength.condition_source}"
    yield f"Kept by the splice: {_kept(strength)}"
    yield f"Design factor: {strength.design_factor:g}, source {strength.design_factor_source or UNKNOWN}"
    yield f"Working load limit: {_limit(strength, tape)}"


def _kept(strength: Strength) -> str:
    if strength.retained_fraction is None:
        return UNKNOWN
    return f"{percent(strength.retained_fraction)}, source {strength.retained_source or UNKNOWN}"


def _limit(strength: Strength, tape: Tape) -> str:
    if strength.wll_n is None:
        return f"{UNKNOWN}, because a number above is"
    return f"{tape.capacity(strength.wll_n)}, from the numbers above, rounded down"


def _checks(plan: Plan, tape: Tape) -> Iterator[str]:
    ranked = sorted(plan.checks, key=lambda check: list(LEVEL_WORDS).index(check.level))
    for check in ranked:
        yield _check(check)
    if not ranked:
        yield "Checks: nothing was found against this plan"


def _check(check: Check) -> str:
    source = f" Source: {check.source}" if check.source else ""
    return f"{LEVEL_WORDS[check.level]}: {check.message}{source}"


def _steps(plan: Plan, tape: Tape) -> Iterator[str]:
    for number, step in enumerate(plan.steps, 1):
        yield f"Step {number}: {step}"
    if plan.finish:
        yield f"Finish: {plan.finish}"


def _sources(plan: Plan, tape: Tape) -> Iterator[str]:
    """Every source once, with the marks and lengths that rest on it."""
    resting: dict[str, list[str]] = {}
    for mark in plan.marks:
        resting.setdefault(sourced(mark.source, common=mark.common_practice), []).append(f"mark {mark.letter}")
    for length in plan.lengths:
        resting.setdefault(sourced(length.source, common=length.common_practice), []).append(length.name)
    for source, names in resting.items():
        yield f"Source of {', '.join(names)}: {source}"


def _cautions(plan: Plan, tape: Tape) -> Iterator[str]:
    for caution in plan.cautions:
        yield f"Caution: {caution}"
