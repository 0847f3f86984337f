"""Ropes and inputs that the splicing tests share."""

from __future__ import annotations

from typing import Any

from gearlog.domain.plan import Plan, PlanInputs, RopeSpec
from gearlog.domain.record import from_plain, to_plain
from gearlog.splicing.method import Method
from gearlog.splicing.method_file import load_builtin
from gearlog.splicing.plan import make_plan

INCH = 0.0254  # m, exact
CONSTRUCTION_OF = {"hollow-eye": "hollow-braid", "cover-eye": "cover-loaded", "laid-eye": "three-strand"}
MM = 0.001


def method(name: str) -> Method:
    """A built-in method by id."""
    return next(one for one in load_builtin() if one.id == name)


def inputs(name: str, **changes: Any) -> PlanInputs:
    """Inputs for a method on a rope that suits it; rope fields and input fields by name."""
    rope: dict[str, Any] = {"construction": CONSTRUCTION_OF[name], "diameter_m": 0.012, "fibre": "polyester"}
    fields: dict[str, Any] = {"method": name, "eye_m": 0.150}
    for key, value in changes.items():
        (rope if key in RopeSpec.__struct_fields__ else fields)[key] = value
    return from_plain(PlanInputs, {"rope": to_plain(RopeSpec(**rope)), **_plain(fields)})


def _plain(fields: dict[str, Any]) -> dict[str, Any]:
    return {key: [to_plain(tool) for tool in value] if key == "tools" else value for key, value in fields.items()}


def plan(name: str, **changes: Any) -> Plan:
    """The plan of a built-in method."""
    return make_plan(method(name), inputs(name, **changes))


def codes(made: Plan, level: str | None = None) -> set[str]:
    """The codes of a plan's checks."""
    return {check.code for check in made.checks if level in (None, check.level)}


def at(made: Plan, mark: str) -> float:
    """Where a mark of the plan lies, in m."""
    return next(one.at_m for one in made.marks if one.id == mark)
