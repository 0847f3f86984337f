"""The planner: a method worked out for one rope, eye and set of tools. Pure; the same inputs give the same plan."""

from __future__ import annotations

import msgspec

from gearlog.domain.plan import Check, FillPoint, Plan, Span, Tolerance
from gearlog.domain.plan_inputs import PlanInputs
from gearlog.splicing.checks import checks_of, ordered
from gearlog.splicing.draft import Draft
from gearlog.splicing.eye import eye_geometry
from gearlog.splicing.fitting import inputs_missing, unfit
from gearlog.splicing.formula import evaluate
from gearlog.splicing.lengths import counts_of, finished_of
from gearlog.splicing.marks import marks_of, spans_of
from gearlog.splicing.method import Method
from gearlog.splicing.profile import fill_of
from gearlog.splicing.pulls import pulls_of
from gearlog.splicing.rules import ToleranceRule
from gearlog.splicing.steps import guide_of
from gearlog.splicing.strength import strength_of
from gearlog.splicing.tapers import taper_of
from gearlog.splicing.tucks import tucks_of
from gearlog.splicing.worked import Worked, work_out

CAUTIONS = (
    "The numbers come from general practice and from what was typed; the program cannot see the rope.",
    "The rope maker's instructions come first.",
    "A splice for life support is inspected by a competent person before use.",
    "Where the law or the employer asks, it is made or tested by a certified splicer.",
)
"""Shown with every plan."""


def make_plan(method: Method, inputs: PlanInputs) -> Plan:
    """Work ``method`` out for ``inputs``. A rope that it does not fit gets stops and no numbers to cut by."""
    fitting = unfit(method, inputs.rope) + inputs_missing(method, inputs)
    if any(check.level == "stop" for check in fitting):
        return _bare(method, inputs, fitting)
    return _full(work_out(method, inputs), fitting)


def _bare(method: Method, inputs: PlanInputs, checks: tuple[Check, ...]) -> Plan:
    """What is known without any number to cut by."""
    return Plan(
        method=method.id,
        method_title=method.title,
        method_version=method.version,
        own=method.own,
        shape=method.shape,
        origin=method.origin,
        inputs=inputs,
        rope_used_m=None,
        strength=strength_of(method, inputs),
        checks=checks,
        cautions=CAUTIONS,
        finish=method.finish,
        tools=tuple(f"{tool.name}: {tool.what_for}" if tool.what_for else tool.name for tool in method.tools),
    )


def _full(worked: Worked, fitting: tuple[Check, ...]) -> Plan:
    method, inputs = worked.method, worked.inputs
    marks, spans = marks_of(worked), spans_of(worked)
    taper, pulls, counts = taper_of(worked), pulls_of(worked), counts_of(worked)
    finished, fill = finished_of(worked), _fill(worked, spans)
    guide = guide_of(worked, marks, taper, pulls, counts)
    eye = None
    if inputs.eye_m is not None and "eye" in method.asks:
        eye = eye_geometry(inputs.eye_m, inputs.rope.diameter_m, inputs.pin_m)
    found = checks_of(Draft(worked, eye, taper, pulls, fill))
    return msgspec.structs.replace(
        _bare(method, inputs, ordered(fitting + found)),
        rope_used_m=worked.length_m(method.rope_used),
        rope_used_tape_m=worked.tape_m(method.rope_used),
        lengths=worked.lengths,
        marks=marks,
        spans=spans,
        pulls=pulls,
        taper=taper,
        tucks=tucks_of(worked),
        eye=eye,
        counts=counts,
        fill=fill,
        shortening=worked.shortening,
        finished=finished,
        cut_length_m=finished.cut_m if finished and finished.wanted else None,
        steps=tuple(step.text for step in guide),
        guide=guide,
        mark_tolerance=_tolerance(worked, method.mark_tolerance),
        eye_tolerance=_tolerance(worked, method.eye_tolerance) if eye else None,
    )


def _tolerance(worked: Worked, rule: ToleranceRule) -> Tolerance:
    return Tolerance(
        within_m=worked.length_m(rule.within),
        if_short=rule.if_short,
        if_long=rule.if_long,
        source=worked.method.source_text(rule.source),
    )


def _fill(worked: Worked, spans: tuple[Span, ...]) -> tuple[FillPoint, ...]:
    rule = worked.method.taper
    if rule is None or worked.method.shape not in {"eye", "join", "loop"}:
        return ()
    return fill_of(spans, worked.strands, float(evaluate(rule.strands_left, worked.names).value))
