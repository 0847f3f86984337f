"""How long a plan takes, as the screens ask for it at every key: the form read, the plan worked out, the drawing.

Run: pytest -s tests/bench/bench_plan.py
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from gearlog.services.book import memory_book
from gearlog.splicing import method_file

PLAN_MS = 5.0  # a key's answer must not be felt; a frame at 60 Hz takes 16 ms
ROUNDS = 50
ROPES = {
    "hollow-eye": {"construction": "hollow-braid", "strands": "12", "fibre": "polyester", "diameter": "12 mm"},
    "cover-eye": {"construction": "cover-loaded", "strands": "16", "fibre": "polyester", "diameter": "12.7 mm"},
    "laid-eye": {"construction": "three-strand", "strands": "3", "fibre": "nylon", "diameter": "1/2 in"},
}


def median_ms(work: Callable[[], object]) -> float:
    taken = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken) * 1000


@pytest.mark.parametrize("method", ROPES)
def test_a_plan_is_worked_out_while_one_types(method: str) -> None:
    planner = memory_book().planner
    form = ROPES[method] | {"method": method, "eye": "150 mm", "pin": "50 mm", "fid": "260 mm", "mbs": "24 kN"}
    file = Path(method_file.__file__).parent / "methods" / f"{method}.toml"
    reading = median_ms(lambda: method_file.read_method(file.read_text("utf-8"), file.name, own=False))
    plan_ms, draw_ms = median_ms(lambda: planner.plan(form)), median_ms(lambda: planner.draw(planner.plan(form), 76))
    print(
        f"\n{method}: plan {plan_ms:.2f} ms, with its drawing {draw_ms:.2f} ms; "
        f"{plan_ms / reading:.2f}x reading its method file ({reading:.1f} ms)"
    )
    assert plan_ms <= PLAN_MS
