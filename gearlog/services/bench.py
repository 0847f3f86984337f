"""The bench: a splice followed step by step, every press saved, so that the work goes on where it stopped."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator

from gearlog.domain.bench import Bench, BenchStand, BenchState, StepLog
from gearlog.domain.identity import new_id
from gearlog.domain.plan import Plan
from gearlog.domain.splice import Measured, Splice
from gearlog.domain.text_rules import text_faults
from gearlog.domain.vocabulary import End, Outcome
from gearlog.errors import Fault, InvalidRecordError
from gearlog.services.bench_clock import BenchClock
from gearlog.services.bench_forms import bench_form, given_up_notes
from gearlog.services.bench_showing import guide, shown
from gearlog.services.bench_store import BenchStore, with_step
from gearlog.services.bench_verdicts import EYE, read_measure, verdict_of
from gearlog.services.bench_views import BenchView, Verdict
from gearlog.services.diary import Diary
from gearlog.services.reading_forms import BLANKS, Form
from gearlog.services.shelf import Shelf


class Benches:
    """Splices that are being made.

    Every verb that changes something is one durable save. The running seconds of a step are saved with the next
    press, so that a kill costs at most the time since the last one, and never a step.

    Attributes:
        clock: the running times; its ``seconds`` may be set by a test.
    """

    def __init__(self, shelf: Shelf, diary: Diary, seconds: Callable[[], float] = time.monotonic) -> None:
        """``seconds`` is a clock that never goes back."""
        self.clock = BenchClock(seconds)
        self._shelf = shelf
        self._diary = diary
        self._records = BenchStore(shelf, self.clock)

    def open_views(self) -> tuple[BenchView, ...]:
        """What is unfinished at the bench, the one last worked on first."""
        return tuple(self.view(bench_id) for bench_id in self._records.open_ids())

    def open_at(self, rope_id: str, end: str) -> BenchView | None:
        """What is unfinished at this end of a rope of the log, or None."""
        here = (view for view in self.open_views() if rope_id and (view.rope_id, view.end) == (rope_id, end))
        return next(here, None)

    def view(self, bench_id: str) -> BenchView:
        """As it stands at this moment, clock and all; saves nothing. Raises NotFoundError."""
        bench = self._records.bench(bench_id)
        stand, plan = self._records.stand(bench_id), self._records.plan(bench_id)
        return shown(bench, stand, plan, self._shelf.find(bench.rope_id), self.clock)

    def start(self, plan: Plan, *, end: str = "") -> BenchView:
        """Take a plan to the bench; ``end`` where the plan names none.

        Raises InvalidRecordError for a plan that stops or has no steps, for a rope of the log without its end, and
        where this end is at the bench already; ReadOnlyError, StorageError.
        """
        end = end or plan.inputs.end
        faults = tuple(self._start_faults(plan, end))
        if faults:
            raise InvalidRecordError(faults)
        now = self._shelf.clock.now()
        bench = Bench(id=new_id(), created_at=now, changed_at=now, rope_id=plan.inputs.rope_id, end=end, plan=plan)
        steps = tuple(StepLog() for _ in guide(plan))
        self._records.begin(bench, BenchStand(id=bench.id, created_at=now, changed_at=now, steps=steps))
        self.clock.start(bench.id)
        return self.view(bench.id)

    def enter(self, bench_id: str) -> BenchView:
        """Somebody stands at the bench again: the clock runs, unless it was paused by hand. Saves nothing."""
        stand = self._records.stand(bench_id)
        if stand.state is BenchState.OPEN and not stand.paused and stand.step < len(stand.steps):
            self.clock.start(bench_id)
        return self.view(bench_id)

    def leave(self, bench_id: str) -> None:
        """The bench is left for another screen: what ran is saved, where the log can be written."""
        is_open = self._records.stand(bench_id).state is BenchState.OPEN
        if is_open and not self._shelf.store.read_only and self.clock.untaken(bench_id) >= 1:
            self._records.press(bench_id, "leave the bench")
        self.clock.stop(bench_id)

    def key(self, bench_id: str) -> None:
        """A key was pressed that changes nothing: somebody is there. Saves nothing."""
        self.clock.key(bench_id, self._records.stand(bench_id).step)

    def done(self, bench_id: str) -> BenchView:
        """The step is done; the next one comes, and a paused clock runs again."""
        stand = self._records.open_stand(bench_id)
        step = min(stand.step + 1, len(stand.steps))
        return self._press(bench_id, f"step {step} done", step=step, paused=False)

    def back(self, bench_id: str) -> BenchView:
        """One step back; its time goes on being counted."""
        step = max(self._records.open_stand(bench_id).step - 1, 0)
        return self._press(bench_id, f"back to step {step + 1}", step=step, paused=False)

    def measure(self, bench_id: str, what: str, text: str) -> Verdict:
        """Enter what was measured at a mark (its id) or of the ``eye``, and say what it means now.

        A number without a unit is in mm, or in inches where the plan is. A later measure takes the place of an
        earlier one. Raises InvalidRecordError for what does not read or is not there to be measured.
        """
        stand, plan = self._records.open_stand(bench_id), self._records.plan(bench_id)
        measured = read_measure(what, text, plan)
        verdict = verdict_of(what, measured, plan)
        label = f"measure {verdict.name}"
        if what == EYE:
            self._records.press(bench_id, label, finished_eye=measured)
        else:
            others = tuple(one for one in stand.measured if one.mark != what)
            self._records.press(bench_id, label, measured=(*others, Measured(mark=what, at=measured)))
        return verdict

    def remark(self, bench_id: str, text: str) -> BenchView:
        """Write a remark at this step, in place of the one that was there; raises InvalidRecordError."""
        stand, words = self._records.open_stand(bench_id), text.strip(BLANKS)
        faults = tuple(text_faults(StepLog(remark=words)))
        if faults:
            raise InvalidRecordError(faults)
        place = min(stand.step, len(stand.steps) - 1)
        steps = with_step(stand.steps, place, remark=words)
        return self._press(bench_id, f"remark at step {place + 1}", steps=steps)

    def pause(self, bench_id: str) -> BenchView:
        """Stop the clock by hand."""
        return self._press(bench_id, "pause the clock", paused=True)

    def resume(self, bench_id: str) -> BenchView:
        """Let the clock run again."""
        return self._press(bench_id, "let the clock run", paused=False)

    def count_away(self, bench_id: str) -> BenchView:
        """The time without a key was work: count it at the step where it passed."""
        stand = self._records.open_stand(bench_id)
        self.key(bench_id)
        seconds, place = self.clock.away(bench_id)
        place = min(place, len(stand.steps) - 1)
        steps = with_step(stand.steps, place, seconds=stand.steps[place].seconds + seconds)
        self.clock.forget_away(bench_id)
        return self._press(bench_id, "count the time without a key", steps=steps)

    def plan_of(self, bench_id: str) -> Plan:
        """The plan that is followed; its marks are fields of the splice's form."""
        return self._records.plan(bench_id)

    def finish_form(self, bench_id: str) -> dict[str, str]:
        """The splice's form as the bench has filled it in: measures, minutes, tools, remarks; the outcome is left."""
        bench, stand = self._records.bench(bench_id), self._records.stand(bench_id)
        blank = self._diary.form_from_plan(self._records.plan(bench_id)) | {"end": bench.end}
        return blank | bench_form(stand, self.clock.untaken(bench_id))

    def finish(self, bench_id: str, form: Form) -> Splice:
        """Save the splice's record and close the bench, in one save; raises as ``Diary.record``."""
        self._records.open_stand(bench_id)
        return self._close(bench_id, form, BenchState.FINISHED)

    def give_up(self, bench_id: str, reason: str, *, cut_length: str = "") -> Splice | None:
        """Keep the splice as given up, with what was done and measured; ``cut_length`` was cut off with it.

        None for a rope that is not in the log: the diary has no rope to enter it for, the bench keeps it.
        Raises InvalidRecordError without a reason.
        """
        stand, why = self._records.open_stand(bench_id), reason.strip(BLANKS)
        if not why:
            way_out = "say why it is given up, such as: strand pulled out at the throat"
            raise InvalidRecordError((Fault("reason", "is empty", way_out),))
        if self._shelf.find(self._records.bench(bench_id).rope_id) is None:
            self._press(bench_id, "give up a splice", state=BenchState.GIVEN_UP, reason=why)
            return None
        form = self.finish_form(bench_id) | {"outcome": Outcome.GIVEN_UP.value, "cut_length": cut_length}
        form["notes"] = given_up_notes(stand, why, form["notes"])
        return self._close(bench_id, form, BenchState.GIVEN_UP, why)

    def _close(self, bench_id: str, form: Form, state: BenchState, reason: str = "") -> Splice:
        also = lambda splice: self._records.closed(bench_id, splice, state, reason)  # noqa: E731 (one short line)
        made = self._diary.record(form, self._records.plan(bench_id), also=also)
        self.clock.stop(bench_id)
        return made

    def _press(self, bench_id: str, label: str, **changes: object) -> BenchView:
        self._records.press(bench_id, label, **changes)
        return self.view(bench_id)

    def _start_faults(self, plan: Plan, end: str) -> Iterator[Fault]:
        if plan.stopped:
            reason = next(check.message for check in plan.checks if check.level == "stop")
            yield Fault("plan", f"must not be made: {reason}", "change the plan until it stops no more")
        elif not guide(plan):
            yield Fault("plan", "has no steps to follow", "record the splice without the bench")
        if self._shelf.find(plan.inputs.rope_id) is None:
            return
        if end not in {End.A.value, End.B.value}:
            yield Fault("end", "is not chosen", "choose end A or B, on which the splice is made")
        elif self.open_at(plan.inputs.rope_id, end) is not None:
            yield Fault("end", f"{end} is at the bench already", "go on with that splice, or give it up first")
