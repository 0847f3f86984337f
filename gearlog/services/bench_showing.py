"""The bench as it is shown: records and clock become one frozen view."""

from __future__ import annotations

from gearlog.domain.bench import Bench, BenchStand, BenchState, StepLog
from gearlog.domain.item import Item
from gearlog.domain.plan import GuideStep, Mark, Plan
from gearlog.services.bench_clock import BenchClock
from gearlog.services.bench_verdicts import measurable
from gearlog.services.bench_views import BenchView, ClockState, StepView

TAPERING, EYE = ("taper the", "taper:", "taper both"), ("form the eye", "form both", "loop")
OPENING = ("draw the core", "open the", "unlay", "milk", "draw the tail")
PULLING = ("pull", "draw the tail", "pass ", "tuck")
BITES_AT = {
    "used-rope": OPENING,
    "hockle": OPENING,
    "slippery-fibre": ("lock stitch",),
    "lock-stitch-slack": ("lock stitch",),
    "tool-too-thick": PULLING,
    "taper-step": TAPERING,
    "taper-impossible": TAPERING,
    "tapers-apart": TAPERING,
    "fill-step": TAPERING,
    "too-full": TAPERING,
    "eye-small": EYE,
    "eye-small-for-pin": EYE,
    "throat-angle": EYE,
    "curvature": EYE,
    "splices-too-close": ("mark it from",),
}
"""Code of a warning -> words of the step at which it bites, where it is told once more."""


def guide(plan: Plan) -> tuple[GuideStep, ...]:
    """The plan's steps with the marks they touch; a plan of an earlier version only has the words."""
    return plan.guide or tuple(GuideStep(text=text) for text in plan.steps)


def shown(bench: Bench, stand: BenchStand, plan: Plan, rope: Item | None, clock: BenchClock) -> BenchView:
    """One splice at the bench at this moment."""
    steps = guide(plan)
    step = steps[stand.step] if stand.step < len(steps) else None
    running = clock.untaken(bench.id)
    log = stand.steps[min(stand.step, len(stand.steps) - 1)]
    marks = _marks(plan, step)
    return BenchView(
        id=bench.id,
        rope_id=bench.rope_id,
        tag=rope.tag if rope else "",
        rope_name=rope.name if rope else "",
        end=bench.end,
        plan=plan,
        number=stand.step + 1,
        count=len(steps),
        step=step,
        marks=marks,
        measurable=measurable(stand, plan, marks),
        warnings=_warnings(plan, steps, stand.step),
        remark=log.remark,
        step_s=(log.seconds if step else 0.0) + running,
        total_s=sum(one.seconds for one in stand.steps) + running,
        clock=_clock(bench.id, stand, clock),
        away_s=clock.away(bench.id)[0],
        steps=_steps(steps, stand.steps, stand.step),
        state=stand.state,
        splice_id=stand.splice_id,
    )


def _marks(plan: Plan, step: GuideStep | None) -> tuple[Mark, ...]:
    """The marks that the step touches; at the end all of them."""
    return plan.marks if step is None else tuple(mark for mark in plan.marks if mark.id in step.marks)


def _warnings(plan: Plan, steps: tuple[GuideStep, ...], at: int) -> tuple[str, ...]:
    """All of them before the first step and at the end; between, each where it bites."""
    grave = [check for check in plan.checks if check.level != "note"]
    if at in {0, len(steps)}:
        return tuple(check.message for check in grave)
    return tuple(check.message for check in grave if at == _bites_at(check.code, steps))


def _bites_at(code: str, steps: tuple[GuideStep, ...]) -> int | None:
    """The first step after the reading one whose words name the work that a warning is about, or None."""
    words = BITES_AT.get(code, ())
    later = enumerate(steps[1:], 1)
    return next((number for number, step in later if any(word in step.text.casefold() for word in words)), None)


def _clock(bench_id: str, stand: BenchStand, clock: BenchClock) -> ClockState:
    if stand.paused and stand.state is BenchState.OPEN:
        return "paused"
    if not clock.runs(bench_id):
        return "stopped"
    return "idle" if clock.idle(bench_id) else "running"


def _steps(steps: tuple[GuideStep, ...], logs: tuple[StepLog, ...], at: int) -> tuple[StepView, ...]:
    return tuple(
        StepView(number + 1, step.text, log.seconds, log.remark, number < at)
        for number, (step, log) in enumerate(zip(steps, logs, strict=False))
    )
