"""gearlog plan: the object it prints, the plan it works out, how it ends."""

from __future__ import annotations

import json
from typing import Any

import pytest

from gearlog.reports.jsons import to_json
from gearlog.services.book import open_sample
from tests.cli.conftest import TODAY, Call

HOLLOW = ("hollow-eye", "--construction", "hollow-braid", "--fibre", "polyester", "--diameter", "12 mm")
EYE = ("--eye", "150 mm", "--pin", "50 mm")


def planned(call: Call, *arguments: str) -> dict[str, Any]:
    ended = call("plan", *arguments, "--json")
    assert ended.err == ""
    plan: dict[str, Any] = json.loads(ended.out)
    return plan | {"code": ended.code}


def test_the_object_has_the_promised_names(call: Call) -> None:
    plan = planned(call, *HOLLOW, *EYE, "--strands", "12", "--fid", "260 mm", "--mbs", "34 kN")
    assert {"method", "rope_used_m", "tucks", "steps"} <= set(plan)
    assert {"part", "name", "at_m", "formula", "source"} <= set(plan["marks"][0])
    assert {"part", "from_m", "to_m", "length_m", "tool", "stage"} <= set(plan["pulls"][0])
    assert {"at_m", "strands_left", "fraction_left"} <= set(plan["taper"][0])
    assert {"level", "code", "message", "source"} <= set(plan["checks"][0])
    assert {"inside_length_m", "circumference_m", "half_angle_deg", "leg_tension_ratio", "d_over_d"} <= set(plan["eye"])
    assert {"mbs_n", "retained_fraction", "retained_source", "design_factor", "wll_n"} <= set(plan["strength"])
    assert plan["strength"]["mbs_n"] == 34000
    assert plan["strength"]["retained_fraction"] is None


def test_a_hollow_eye_is_marked_where_common_practice_says(call: Call) -> None:
    """Bury 2 fid = 42 d = 504 mm, loop 2 x 150 mm; eye = 3 D: h = 13.407 deg, leg ratio 0.51401."""
    plan = planned(call, *HOLLOW, *EYE)
    places = [mark["at_m"] for mark in plan["marks"]]
    assert plan["code"] == 0
    assert any(place == pytest.approx(0.504, abs=1e-9) for place in places)
    assert any(place == pytest.approx(0.804, abs=1e-9) for place in places)
    assert plan["eye"]["half_angle_deg"] == pytest.approx(13.407, abs=5e-4)
    assert plan["eye"]["leg_tension_ratio"] == pytest.approx(0.51401, abs=5e-6)


@pytest.mark.parametrize(
    ("fibre", "diameter", "tucks", "tail_m"),
    [  # 29 CFR 1910.184(h)(3): 4 tucks in synthetic, 3 in natural fibre; tail 6 d under 1 in, else 6 in
        ("nylon", "1/2 in", 4, 6 * 0.0127),
        ("polyester", "2 in", 4, 0.1524),
        ("manila", "1/2 in", 3, 6 * 0.0127),
    ],
)
def test_a_laid_eye_has_the_tucks_and_tails_of_the_law(
    call: Call, fibre: str, diameter: str, tucks: int, tail_m: float
) -> None:
    plan = planned(
        call, "laid-eye", "--construction", "three-strand", "--fibre", fibre, "--diameter", diameter, "--eye", "20 in"
    )
    assert plan["tucks"]["count"] >= tucks
    assert plan["tucks"]["tail_m"] == pytest.approx(tail_m)
    assert "1910.184" in plan["tucks"]["source"]


@pytest.mark.parametrize(
    "rope", [("--construction", "hollow-braid", "--lay", "tight"), ("--construction", "kernmantle")], ids=["tight", "k"]
)
def test_a_plan_that_stops_still_prints_its_object_and_ends_with_one(call: Call, rope: tuple[str, ...]) -> None:
    plan = planned(call, "hollow-eye", *rope, "--diameter", "12 mm", "--eye", "150 mm")
    assert plan["code"] == 1
    assert plan["checks"][0]["level"] == "stop"
    assert plan["marks"] == []


def test_numbers_in_json_are_not_rounded(call: Call) -> None:
    plan = planned(call, *HOLLOW[:-1], "7/16 in", "--eye", "1/3 in")
    assert plan["inputs"]["rope"]["diameter_m"] == 0.0111125  # 7/16 of 25.4 mm
    assert plan["eye"]["inside_length_m"] == pytest.approx(0.0254 / 3, rel=1e-15)


def test_the_same_plan_comes_from_the_screens_and_from_the_command_line(call: Call) -> None:
    ended = call("--sample", "plan", "cover-eye", "--rope", "line-2", "--end", "A", "--eye", "115 mm", "--json")
    with open_sample(today=lambda: TODAY) as book:
        form = book.planner.form_for(book.gear.by_tag("line-2").id, "A") | {"method": "cover-eye", "eye": "115 mm"}
        on_screen = book.planner.plan(form)
    assert json.loads(ended.out) == json.loads(to_json(on_screen))


def test_plain_words_are_in_the_users_tape(call: Call) -> None:
    metric, imperial = (call("plan", *HOLLOW, *EYE, *more).out for more in ((), ("--imperial",)))
    assert "Mark b: 504 mm from" in metric
    assert "19 13/16 in" in imperial
