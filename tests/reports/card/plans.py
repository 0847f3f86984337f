"""Plans of every built-in method that the tests of the card share."""

from __future__ import annotations

from gearlog.domain.plan import Plan, PlanInputs, RopeSpec, Tool
from gearlog.splicing.method import Method
from gearlog.splicing.method_file import load_builtin
from gearlog.splicing.plan import make_plan

METHODS = load_builtin()
NAMES = [method.id for method in METHODS]


def method_of(name: str) -> Method:
    """A built-in method by id."""
    return next(method for method in METHODS if method.id == name)


def plan_of(
    name: str,
    diameter_m: float = 0.012,
    eye_m: float = 0.15,
    finished_m: float = 6.0,
    rope_name: str = "",
    **more: object,
) -> Plan:
    """A plan on the first rope that the method fits, with everything given that any method asks for."""
    method = method_of(name)
    rope = RopeSpec(
        construction=method.constructions[0], diameter_m=diameter_m, fibre="polyester", mbs_n=24_000.0, name=rope_name
    )
    fields: dict[str, object] = {"rope": rope, "eye_m": eye_m, "pin_m": 0.02, "finished_m": finished_m}
    fields |= {"shortest_m": 0.6 * finished_m, "longest_m": finished_m, "tools": (Tool(name="fid", length_m=0.3),)}
    return make_plan(method, PlanInputs(method=name, **(fields | more)))  # type: ignore[arg-type] # by name
