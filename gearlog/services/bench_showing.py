"""The bench as it is shown: records and clock become one frozen view."""

from __future__ import annotations

from gearlog.domain.bench import Bench, BenchStand, BenchState, StepLog
from gearlog.domain.item import Item
from gearlog.domain.plan import GuideStep, Mark, Plan
from gearlog.services.bench_clock import BenchClock
from gearlog.services.bench_verdicts import measurable
from gearlog.services.bench_views import BenchView, ClockState, StepView


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
        warnings=_warnings(plan) if stand.step in {0, len(steps)} else (),
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


def _warnings(plan: Plan) -> tuple[str, ...]:
    return tuple(check.message for check in plan.checks if check.level != "note")


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
