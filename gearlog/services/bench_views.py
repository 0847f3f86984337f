"""What the bench shows: the step that is next with all that belongs to it, and what a measure means."""

from __future__ import annotations

from typing import Literal

import msgspec

from gearlog.domain.bench import BenchState
from gearlog.domain.plan import GuideStep, Mark, Plan
from gearlog.units.measure import Length

ClockState = Literal["running", "idle", "paused", "stopped"]


class Verdict(msgspec.Struct, frozen=True):
    """What was measured, against the plan.

    Attributes:
        what: the mark's id, or ``eye``.
        name: the mark's letter and name, or ``finished eye``.
        planned_m: what the tape was to show.
        measured: what was typed.
        difference_m: measured minus planned.
        within: whether that is within the method's tolerance; None where it states none.
        words: all of it in one or two sentences, with what to do now where it is off.
        source: where the tolerance comes from, or empty.
    """

    what: str
    name: str
    planned_m: float
    measured: Length
    difference_m: float
    within: bool | None
    words: str
    source: str


class Measurable(msgspec.Struct, frozen=True):
    """Something that can be measured now: what to hand to ``measure``, its words, and the verdict so far."""

    what: str
    label: str
    planned_m: float
    verdict: Verdict | None


class StepView(msgspec.Struct, frozen=True):
    """One step in a list of all: number from 1, its words, seconds spent, remark, whether it is done."""

    number: int
    text: str
    seconds: float
    remark: str
    done: bool


class BenchView(msgspec.Struct, frozen=True):
    """A splice at the bench, as it stands at this moment.

    Attributes:
        tag: the rope's tag; with ``rope_name`` empty for a rope that is not in the log.
        end: the rope's end, or empty.
        number: of the step that is next, from 1; ``count`` + 1 when all are done.
        count: how many steps there are.
        step: the step that is next, or None when all are done.
        marks: marks of the plan that this step touches.
        measurable: those marks, then the finished eye where the plan has one; at the end every mark.
        warnings: warnings of the plan: all at the first step and at the end, each once more at the step where it bites.
        remark: written at this step.
        step_s: seconds spent on this step, with those that run now; ``total_s`` on all.
        clock: running, idle (nobody pressed a key for long), paused (by hand), or stopped (at the end, or not entered).
        away_s: seconds not counted because nobody pressed a key; ``count_away`` adds them.
        steps: all steps, for a look back.
        splice_id: the record in the diary that came of it, or empty.
    """

    id: str
    rope_id: str
    tag: str
    rope_name: str
    end: str
    plan: Plan
    number: int
    count: int
    step: GuideStep | None
    marks: tuple[Mark, ...]
    measurable: tuple[Measurable, ...]
    warnings: tuple[str, ...]
    remark: str
    step_s: float
    total_s: float
    clock: ClockState
    away_s: float
    steps: tuple[StepView, ...]
    state: BenchState
    splice_id: str

    @property
    def at_end(self) -> bool:
        """Whether all steps are done and only the record is left."""
        return self.step is None
