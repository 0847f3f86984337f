"""The records behind the bench: found, and saved with the seconds that ran."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from gearlog.domain.bench import Bench, BenchStand, BenchState, StepLog
from gearlog.domain.plan import Plan
from gearlog.domain.record import Record
from gearlog.domain.splice import Splice
from gearlog.errors import Fault, InvalidRecordError, NotFoundError, StorageError
from gearlog.services.bench_clock import BenchClock
from gearlog.services.shelf import Shelf


class BenchStore:
    """Benches and their stands in one log."""

    def __init__(self, shelf: Shelf, clock: BenchClock) -> None:
        self._shelf = shelf
        self._clock = clock

    def open_ids(self) -> tuple[str, ...]:
        """What is unfinished, the one last worked on first."""
        stands = [stand for stand in self._shelf.store.records(BenchStand) if stand.state is BenchState.OPEN]
        stands.sort(key=lambda stand: stand.changed_at, reverse=True)
        return tuple(stand.id for stand in stands if self._shelf.store.get(Bench, stand.id))

    def bench(self, bench_id: str) -> Bench:
        """What is being made; raises NotFoundError."""
        found = self._shelf.store.get(Bench, bench_id)
        if found is None:
            raise NotFoundError("this splice is not at the bench any more; go back to the planner")
        return found

    def stand(self, bench_id: str) -> BenchStand:
        """How far it has come; raises NotFoundError."""
        found = self._shelf.store.get(BenchStand, bench_id)
        if found is None:
            raise NotFoundError("this splice is not at the bench any more; go back to the planner")
        return found

    def open_stand(self, bench_id: str) -> BenchStand:
        """The stand of one that is not closed; raises InvalidRecordError, NotFoundError."""
        stand = self.stand(bench_id)
        if stand.state is not BenchState.OPEN:
            way_out = "open its record in the diary, or start the plan anew"
            raise InvalidRecordError((Fault("bench", "was closed already", way_out),))
        return stand

    def plan(self, bench_id: str) -> Plan:
        """The plan that is followed, also after the splice's record took it over; raises NotFoundError."""
        bench = self.bench(bench_id)
        if bench.plan is not None:
            return bench.plan
        made = self._shelf.splice(self.stand(bench_id).splice_id)
        if made.plan is None:
            raise NotFoundError("the plan of this splice is not in the log any more; open its record in the diary")
        return made.plan

    def begin(self, bench: Bench, stand: BenchStand) -> None:
        """Save a new one."""
        self._shelf.store.save(bench, stand, label=self._label("start a splice at the bench", bench))

    def press(self, bench_id: str, label: str, **changes: Any) -> None:
        """Save a stand with ``changes`` and the seconds that ran, in one line; the clock goes on or stands."""
        stand = self.open_stand(bench_id)
        steps = changes.pop("steps", stand.steps)
        taken = self._clock.take(bench_id, stand.step)
        if taken and stand.step < len(steps):
            steps = with_step(steps, stand.step, seconds=steps[stand.step].seconds + taken)
        after = replace(stand, steps=steps, changed_at=self._shelf.clock.now(), **changes)
        try:
            self._shelf.store.save(after, label=self._label(label, self.bench(bench_id)))
        except StorageError:
            self._clock.give_back(bench_id, taken)
            raise
        if after.paused or after.step >= len(after.steps) or after.state is not BenchState.OPEN:
            self._clock.stop(bench_id)
        else:
            self._clock.start(bench_id)

    def closed(self, bench_id: str, splice: Splice, state: BenchState, reason: str = "") -> tuple[Record, ...]:
        """The two records once the diary holds the splice: the plan moves there."""
        stand = self.stand(bench_id)
        steps = stand.steps
        if stand.step < len(steps):
            steps = with_step(steps, stand.step, seconds=steps[stand.step].seconds + self._clock.untaken(bench_id))
        now = self._shelf.clock.now()
        return (
            replace(self.bench(bench_id), plan=None, changed_at=now),
            replace(stand, state=state, steps=steps, splice_id=splice.id, reason=reason, changed_at=now),
        )

    def _label(self, words: str, bench: Bench) -> str:
        rope = self._shelf.find(bench.rope_id)
        return f"{words} in {rope.tag}" if rope else f"{words} in a rope that is not in the log"


def with_step(steps: tuple[StepLog, ...], place: int, **changes: Any) -> tuple[StepLog, ...]:
    """The steps with one of them changed."""
    return (*steps[:place], replace(steps[place], **changes), *steps[place + 1 :])
