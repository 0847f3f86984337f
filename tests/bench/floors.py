"""What benchmarks share: times in milliseconds, floors of the same run, ratios in words."""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Callable
from pathlib import Path


def median_ms(work: Callable[[], object], rounds: int) -> float:
    """The median of ``rounds`` runs."""
    return statistics.median(once_ms(work) for _ in range(rounds))


def side_by_side_ms(work: Callable[[], object], floor: Callable[[], object], rounds: int) -> tuple[float, float]:
    """The medians of both, run in turn, so that what else the machine does hits both alike."""
    pairs = [(once_ms(work), once_ms(floor)) for _ in range(rounds)]
    return statistics.median(one for one, _ in pairs), statistics.median(other for _, other in pairs)


def best_ms(work: Callable[[], object], rounds: int) -> float:
    """The fastest of ``rounds`` runs: what the work costs when nothing else disturbs."""
    return min(once_ms(work) for _ in range(rounds))


def once_ms(work: Callable[[], object]) -> float:
    """One run."""
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1000


def flushed_append(path: Path, line: bytes) -> Callable[[], None]:
    """The floor of a durable save: one line appended to an open file and brought to the disk."""
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)

    def append() -> None:
        os.write(descriptor, line)
        os.fdatasync(descriptor)

    return append


def ratio(name: str, measured_ms: float, floor_name: str, floor_ms: float) -> str:
    """One line of a report."""
    return f"{name}: {measured_ms:.3f} ms = {measured_ms / floor_ms:.2f}x {floor_name} ({floor_ms:.3f} ms)"
