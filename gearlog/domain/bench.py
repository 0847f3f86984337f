"""The bench: a splice while it is being made. What is made is one record, how far it has come another.

The two are apart because a plan is long and never changes on the way, while every press saves how far it has come.
"""

from __future__ import annotations

from enum import StrEnum

import msgspec

from gearlog.domain.plan import Plan
from gearlog.domain.record import Record
from gearlog.domain.splice import Measured
from gearlog.units.measure import Length


class BenchState(StrEnum):
    """Where the work stands."""

    OPEN = "open"
    FINISHED = "finished"
    GIVEN_UP = "given-up"


class StepLog(msgspec.Struct, frozen=True, kw_only=True):
    """What is kept of one step: how long it took (s, pauses left out), and a remark."""

    seconds: float = 0.0
    remark: str = ""


class Bench(Record, frozen=True, kw_only=True):
    """What is being made.

    Attributes:
        rope_id: the rope's item, or empty for a rope that is not in the log.
        end: the rope's end, or empty.
        plan: the plan that is followed; None once the splice's own record holds it.
    """

    rope_id: str
    end: str
    plan: Plan | None


class BenchStand(Record, frozen=True, kw_only=True):
    """How far it has come; its id is that of its ``Bench``.

    Attributes:
        step: index of the step that is next; as many as there are steps when all are done.
        steps: what is kept of each step, in the plan's order.
        measured: what was measured at the plan's marks, the newest word of each.
        finished_eye: inside length of the eye as it came out.
        paused: whether the clock was stopped by hand.
        state: open, finished or given up.
        splice_id: the record in the diary that came of it, or empty.
        reason: why it was given up, or empty.
    """

    step: int = 0
    steps: tuple[StepLog, ...] = ()
    measured: tuple[Measured, ...] = ()
    finished_eye: Length | None = None
    paused: bool = False
    state: BenchState = BenchState.OPEN
    splice_id: str = ""
    reason: str = ""
