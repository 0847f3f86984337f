"""How long a plan takes: as the screens ask for it at every key, and bare, by the thousand, for every method.

Run: pytest -s tests/bench/bench_plan.py
"""

from __future__ import annotations

import statistics
import time
import tomllib
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from gearlog.domain.plan_inputs import PlanInputs, RopeSpec, Tool
from gearlog.services.book import memory_book
from gearlog.splicing import method_file
from gearlog.splicing.method import Method
from gearlog.splicing.plan import make_plan
from tests.bench.floors import side_by_side_ms

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


PER_SECOND = 1000  # plans a second on one core, over all methods
OFTEN = 40


def test_plans_a_second_beside_reading_the_same_methods_data() -> None:
    """Floor: the method's file through the TOML reader of the standard library, and nothing made of it."""
    planning, reading = 0.0, 0.0
    folder = Path(method_file.__file__).parent / "methods"
    for method in method_file.load_builtin():
        inputs, text = worked_inputs(method), (folder / f"{method.id}.toml").read_text("utf-8")
        plan_ms, read_ms = side_by_side_ms(partial(make_plan, method, inputs), partial(tomllib.loads, text), OFTEN)
        planning, reading = planning + plan_ms, reading + read_ms
        print(f"\n{method.id:20} {1000 / plan_ms:6.0f} plans/s, {plan_ms / read_ms:.2f}x reading its data", end="")
    per_second = 1000 * len(method_file.load_builtin()) / planning
    print(f"\nall methods in turn: {per_second:.0f} plans/s, {planning / reading:.2f}x reading their data")
    assert per_second >= PER_SECOND


def worked_inputs(method: Method) -> PlanInputs:
    """Everything a method may ask for, on a rope that suits it."""
    rope = RopeSpec(construction=method.constructions[0], diameter_m=0.012, fibre="polyester", mbs_n=24_000.0)
    return PlanInputs(
        method=method.id,
        rope=rope,
        eye_m=0.150,
        pin_m=0.050,
        finished_m=6.0,
        shortest_m=2.5,
        longest_m=4.0,
        tools=(Tool(name="fid", length_m=0.3),),
    )
