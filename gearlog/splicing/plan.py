"""The planner: a method worked out for one rope, eye and set of tools. Pure; the same inputs give the same plan."""

from __future__ import annotations

from gearlog.domain.plan import Check, Plan, PlanInputs
from gearlog.splicing.checks import Draft, checks_of
from gearlog.splicing.eye import eye_geometry
from gearlog.splicing.fitting import unfit
from gearlog.splicing.marks import marks_of, spans_of
from gearlog.splicing.method import Method
from gearlog.splicing.pulls import pulls_of
from gearlog.splicing.steps import steps_of
from gearlog.splicing.strength import strength_of
from gearlog.splicing.tapers import taper_of
from gearlog.splicing.tucks import tucks_of
from gearlog.splicing.worked import work_out

CAUTIONS = (
    "The numbers come from general practice and from what was typed; the program cannot see the rope.",
    "The rope maker's instructions come first.",
    "A splice for life support is inspected by a competent person before use.",
    "Where the law or the employer asks, it is made or tested by a certified splicer.",
)
"""Shown with every plan."""


def make_plan(method: Method, inputs: PlanInputs) -> Plan:
    """Work ``method`` out for ``inputs``. A rope that it does not fit gets stops and no numbers to cut by."""
    fitting = unfit(method, inputs.rope)
    if any(check.level == "stop" for check in fitting):
        return _stopped(method, inputs, fitting)
    worked = work_out(method, inputs)
    marks, taper, pulls = marks_of(worked), taper_of(worked), pulls_of(worked)
    eye = eye_geometry(inputs.eye_m, inputs.rope.diameter_m, inputs.pin_m)
    found = checks_of(Draft(worked, eye, taper, pulls))
    return Plan(
        method=method.id,
        method_title=method.title,
        method_version=method.version,
        own=method.own,
        inputs=inputs,
        rope_used_m=worked.length_m(method.rope_used),
        lengths=worked.lengths,
        marks=marks,
        spans=spans_of(worked),
        pulls=pulls,
        taper=taper,
        tucks=tucks_of(worked),
        eye=eye,
        strength=strength_of(method, inputs),
        checks=_ordered(fitting + found),
        steps=steps_of(worked, marks, taper, pulls),
        finish=method.finish,
        cautions=CAUTIONS,
    )


def _stopped(method: Method, inputs: PlanInputs, checks: tuple[Check, ...]) -> Plan:
    return Plan(
        method=method.id,
        method_title=method.title,
        method_version=method.version,
        own=method.own,
        inputs=inputs,
        rope_used_m=None,
        strength=strength_of(method, inputs),
        checks=checks,
        cautions=CAUTIONS,
    )


def _ordered(checks: tuple[Check, ...]) -> tuple[Check, ...]:
    return tuple(sorted(checks, key=lambda check: ("stop", "warn", "note").index(check.level)))
