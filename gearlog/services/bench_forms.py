"""What the bench writes into the splice's form."""

from __future__ import annotations

from math import ceil

from gearlog.domain.bench import BenchStand
from gearlog.domain.validate import MINUTES
from gearlog.services.splice_forms import MEASURED

A_MINUTE = 60  # s


def bench_form(stand: BenchStand, running_s: float) -> dict[str, str]:
    """Measures, minutes and remarks as they would be typed; ``running_s`` are seconds not yet saved."""
    seconds = running_s + sum(log.seconds for log in stand.steps)
    form = {MEASURED + one.mark: one.at.text for one in stand.measured}
    if stand.finished_eye is not None:
        form["finished_eye"] = stand.finished_eye.text
    if seconds >= 1:
        form["minutes"] = str(min(ceil(seconds / A_MINUTE), MINUTES[-1]))
    remarks = [f"step {number}: {log.remark}" for number, log in enumerate(stand.steps, 1) if log.remark]
    return form | {"notes": "\n".join(remarks)}


def given_up_notes(stand: BenchStand, reason: str, remarks: str) -> str:
    """The remarks with how far the work came and why it ended."""
    count = len(stand.steps)
    where = f"at step {stand.step + 1} of {count}" if stand.step < count else f"after all {count} steps"
    return "\n".join(filter(None, (f"given up {where}: {reason}", remarks)))
