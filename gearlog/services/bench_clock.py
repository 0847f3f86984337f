"""The clock at the bench: it counts while somebody is there, and stops by itself when nobody pressed a key for long."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

IDLE_S = 180.0
"""Seconds without a key after which the clock stands; longer work without one is counted when the user says so."""


@dataclass(slots=True)
class _Run:
    """One splice's running time: counted and not yet taken, the last key, and what was left out at which step."""

    counted: float
    key: float
    away: float = 0.0
    away_step: int = 0


class BenchClock:
    """Running times by splice at the bench; they live in memory until a press takes them into the record.

    Attributes:
        seconds: a clock that never goes back; tests give their own.
    """

    def __init__(self, seconds: Callable[[], float]) -> None:
        self.seconds = seconds
        self._runs: dict[str, _Run] = {}

    def start(self, bench_id: str) -> None:
        """Let it run from now on; one that runs goes on."""
        self._runs.setdefault(bench_id, _Run(0.0, self.seconds()))

    def stop(self, bench_id: str) -> None:
        """Let it stand; what was not taken is dropped."""
        self._runs.pop(bench_id, None)

    def runs(self, bench_id: str) -> bool:
        """Whether it was started, idle or not."""
        return bench_id in self._runs

    def idle(self, bench_id: str) -> bool:
        """Whether it stands because nobody pressed a key for ``IDLE_S``."""
        run = self._runs.get(bench_id)
        return run is not None and self.seconds() - run.key > IDLE_S

    def untaken(self, bench_id: str) -> float:
        """Seconds counted since they were last taken, with those of this moment."""
        run = self._runs.get(bench_id)
        return run.counted + min(self.seconds() - run.key, IDLE_S) if run else 0.0

    def key(self, bench_id: str, step: int) -> None:
        """Somebody is there, at ``step``; time beyond the idle limit is put aside."""
        run = self._runs.get(bench_id)
        if run is None:
            return
        now = self.seconds()
        beyond = now - run.key - IDLE_S
        run.counted, run.key = self.untaken(bench_id), now
        if beyond > 0:
            run.away, run.away_step = beyond, step

    def take(self, bench_id: str, step: int) -> float:
        """Seconds to enter for ``step``; the count begins anew. What was put aside can still be counted."""
        run = self._runs.get(bench_id)
        if run is None:
            return 0.0
        self.key(bench_id, step)
        taken, run.counted = run.counted, 0.0
        return taken

    def give_back(self, bench_id: str, seconds: float) -> None:
        """What was taken could not be saved: it counts on."""
        if bench_id in self._runs:
            self._runs[bench_id].counted += seconds

    def away(self, bench_id: str) -> tuple[float, int]:
        """Seconds put aside by the last stretch without a key, and the step they belong to."""
        run = self._runs.get(bench_id)
        return (run.away, run.away_step) if run else (0.0, 0)

    def forget_away(self, bench_id: str) -> None:
        """What was put aside has been dealt with."""
        if bench_id in self._runs:
            self._runs[bench_id].away = 0.0
