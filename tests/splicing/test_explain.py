"""Every number of a plan has an explanation, and its worked formula gives that number again."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.explained import Explained
from gearlog.domain.plan import Plan
from gearlog.domain.plan_inputs import Hardware, PlanInputs, RopeSpec, Tool
from gearlog.domain.vocabulary import Condition, Unit
from gearlog.splicing.explain import explain
from gearlog.splicing.eye import loop_length, throat_distance
from gearlog.splicing.formula import LONGEST
from gearlog.splicing.method import Method
from gearlog.splicing.method_file import load_builtin
from gearlog.splicing.plan import make_plan
from tests.splicing.ropes import method
from tests.splicing.working import work_out

NEAR = 2e-7  # relative; worked formulas show six decimals of a mm, an inch or a kN
A_HAIR = 1e-9  # m, or degrees


def inputs_of(one: Method, **changes: Any) -> PlanInputs:
    rope: dict[str, Any] = {"construction": one.constructions[0], "diameter_m": 0.0127, "fibre": "polyester",
                            "mbs_n": 24_020.4, "length_m": 45.0}  # fmt: skip
    fields: dict[str, Any] = {
        "method": one.id, "eye_m": 0.115, "pin_m": 0.032, "finished_m": 9.0, "shortest_m": 4.0, "longest_m": 6.0,
        "tools": (Tool(name="fid", length_m=0.26), Tool(name="wire fid", length_m=0.4, thickness_m=0.003)),
        "knots": ("bowline",), "hardware": (Hardware(name="ring", strength_n=23_000.0), Hardware(name="old ring")),
    }  # fmt: skip
    for key, value in changes.items():
        (rope if key in RopeSpec.__struct_fields__ else fields)[key] = value
    return PlanInputs(rope=RopeSpec(**rope), **fields)


VARIANTS: dict[str, dict[str, Any]] = {
    "as-asked": {},
    "imperial": {"unit": Unit.IMPERIAL, "tape_parts": 32, "diameter_m": 0.0111125},
    "measured": {"lay_length_m": 0.0387, "pick_length_m": 0.0061, "twine_m": 0.0012, "strands": 16,
                 "braid_angle_deg": 23.5, "swelling": 1.31},
    "both-ends": {"both_ends": True, "tapered": True, "eye_correction_m": 0.004, "correction_words": "n 3",
                  "shortening_correction_m": 0.012, "shortening_words": "n 4"},
    "not-wanted": {"finished_m": None},
    "bare": {"finished_m": None, "length_m": None, "mbs_n": None, "pin_m": None, "tools": (), "knots": (),
             "hardware": (), "fibre": ""},
    "wet": {"fibre": "polyamide", "condition": Condition.WET, "design_factor": 7.5, "hardware": ()},
    "jams": {"swelling": 3.9},
    "pin-too-large": {"pin_m": 0.2},
}  # fmt: skip


def numbers(value: object, path: str = "") -> Iterator[tuple[str, float]]:
    """Every number with its path; yes and no are none."""
    if isinstance(value, bool):
        return
    if isinstance(value, int | float):
        yield path, value
    elif isinstance(value, dict):
        for key, one in value.items():
            yield from numbers(one, f"{path}.{key}" if path else key)
    elif isinstance(value, list | tuple):
        for index, one in enumerate(value):
            yield from numbers(one, f"{path}[{index}]")


def told(plan: Plan) -> dict[str, float]:
    """Every number of the plan's JSON that is not an input."""
    plain = msgspec.to_builtins(plan)
    del plain["inputs"]
    return dict(numbers(plain))


def explained(one: Method, plan: Plan) -> dict[str, Explained]:
    return {each.key: each for each in explain(plan, one)}


@pytest.mark.parametrize("variant", VARIANTS)
@pytest.mark.parametrize("one", load_builtin(), ids=lambda one: one.id)
def test_every_number_is_explained_and_its_worked_formula_gives_it(one: Method, variant: str) -> None:
    plan = make_plan(one, inputs_of(one, **VARIANTS[variant]))
    found, wanted = explained(one, plan), told(plan)
    assert {key: each.number for key, each in found.items() if not key.startswith("names.")} == wanted
    for key, each in found.items():
        worked = float(work_out(each.worked))
        assert worked == pytest.approx(each.number, rel=NEAR, abs=A_HAIR), (key, each.worked)
        assert each.title, key
        assert each.formula, key
        assert each.source, key
        assert each.value, key


@given(st.sampled_from(load_builtin()), st.floats(0.004, 0.06), st.floats(0.08, 0.6), st.sampled_from(list(Unit)))
def test_so_it_is_for_any_rope_and_eye(one: Method, size: float, eye: float, unit: Unit) -> None:
    plan = make_plan(one, inputs_of(one, diameter_m=size, eye_m=eye, unit=unit, longest_m=40.0, shortest_m=20.0))
    for each in explain(plan, one):
        if "tape" in each.key:
            continue  # a length within a millionth of a mark may be rounded to either side of it
        assert float(work_out(each.worked)) == pytest.approx(each.number, rel=2e-6, abs=A_HAIR), (each.key, each.worked)


def test_a_plan_that_does_not_fit_explains_what_is_known() -> None:
    one = method("hollow-eye")
    plan = make_plan(one, inputs_of(one, construction="kernmantle"))
    assert set(told(plan)) == set(explained(one, plan))
    assert "strength.mbs_n" in told(plan)


def test_an_explanation_tells_what_went_in_and_where_that_is_from() -> None:
    """Bury 2 fid = 2 x 21 x 12.7 mm = 533.4 mm, loop 2 x 115 mm: throat on the standing part at 763.4 mm."""
    one = method("cover-eye")
    found = explained(one, make_plan(one, inputs_of(one)))
    mark = next(each for each in found.values() if each.key.endswith("at_m") and "standing" in each.title)
    assert (mark.formula, mark.worked, mark.value) == ("bury + loop", "533.4 mm + 230 mm", "763 mm")
    assert any(line.startswith("bury = 533.4 mm: bury, 2 * fid, common practice") for line in mark.inputs)
    assert mark.common_practice
    assert found["names.fid"].worked == "21 * 12.7 mm"


def test_the_throats_distance_that_is_put_in_solves_the_loop() -> None:
    one = method("hollow-eye")
    plan = make_plan(one, inputs_of(one))
    line = next(line for line in explained(one, plan)["eye.half_angle_deg"].inputs if line.startswith("x = "))
    x = float(line.removeprefix("x = ").partition(" mm")[0]) / 1000
    assert x == pytest.approx(throat_distance(0.230, 0.032), abs=1e-9)
    assert loop_length(x, 0.016) == pytest.approx(0.230, abs=1e-8)


def test_formulas_of_any_length_that_a_file_may_hold_are_explained() -> None:
    """A stage's end is put together from three formulas of a file, each as long as a file may hold."""
    one = method("hollow-eye")
    longest = "bury + loop" + " + 0 * d" * ((LONGEST - len("bury + loop")) // len(" + 0 * d"))
    pulls = tuple(msgspec.structs.replace(rule, start=longest) for rule in one.pulls)
    plan = make_plan(changed := msgspec.structs.replace(one, pulls=pulls), inputs_of(one))
    assert len(plan.pulls) > 1
    found = explained(changed, plan)
    assert "bury = " in " ".join(found["pulls[0].to_m"].inputs)


def test_a_hair_over_a_whole_turn_is_no_further_turn() -> None:
    """Twice a rope of 4.000000000000001 mm over 1 mm of twine: 8 turns, and of 4.1 mm 9."""
    one = method("throat-seizing")
    turns = [make_plan(one, inputs_of(one, diameter_m=size)).counts[0].count for size in (0.004000000000000001, 0.0041)]
    assert turns == [8, 9]


@pytest.mark.parametrize("bad", ["", "2 *", "(1", "1 2", "x(1)", "sin 1", "1 furlong"])
def test_the_tests_own_evaluator_refuses_what_is_no_formula(bad: str) -> None:
    with pytest.raises((ValueError, IndexError, KeyError)):
        work_out(bad)


@pytest.mark.parametrize("name", [one.id for one in load_builtin()])
def test_what_went_into_a_number_is_told_in_words_not_in_keys(name: str) -> None:
    """A reader of 'why' cannot look up finished.cut_m, and nothing was learned unless it was taken."""
    one = method(name)
    told = [words for each in explain(make_plan(one, inputs_of(one)), one) for words in each.inputs]
    assert not [words for words in told if re.search(r"\b[a-z]+\.[a-z]+_m\b", words)]
    assert not [words for words in told if "diary" in words]
    if any(words.startswith("loop = ") for words in told):
        learned = explain(make_plan(one, inputs_of(one, eye_correction_m=0.004, correction_words="n 3")), one)
        assert any("learned from the diary" in words for each in learned for words in each.inputs)
