"""The plan as a whole: order, sums, scaling, pulls, checks, steps."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.plan import Mark, NamedLength, Plan, RopeSpec, Tool
from gearlog.domain.record import from_plain, to_plain
from gearlog.domain.vocabulary import Lay, Unit
from gearlog.splicing.guidance import which_methods
from gearlog.splicing.method_file import load_builtin
from tests.splicing.ropes import CONSTRUCTION_OF, codes, plan

NAMES = list(CONSTRUCTION_OF)
SIZES = st.floats(0.003, 0.060)
EYES = st.floats(0.020, 2.0)
FIBRES = st.sampled_from(["", "polyester", "polyamide", "hmpe", "manila", "aramid"])


@given(st.sampled_from(NAMES), SIZES, EYES, FIBRES)
def test_marks_are_in_order_and_parts_add_up(name: str, size: float, eye: float, fibre: str) -> None:
    made = plan(name, diameter_m=size, eye_m=eye, fibre=fibre)
    places = [mark.at_m for mark in made.marks]
    assert places == sorted(places)
    assert places[0] >= 0
    tail = next(span for span in made.spans if span.kind in ("tail", "unlay"))
    loop = next(span for span in made.spans if span.kind == "eye")
    assert made.rope_used_m == pytest.approx((tail.to_m - tail.from_m) + (loop.to_m - loop.from_m))
    assert loop.to_m - loop.from_m == pytest.approx(2 * eye)


@given(st.sampled_from(["hollow-eye", "cover-eye"]), SIZES, st.floats(0.2, 5.0), FIBRES)
def test_twice_the_rope_and_eye_is_twice_every_length(name: str, size: float, factor: float, fibre: str) -> None:
    one = plan(name, diameter_m=size, eye_m=10 * size, fibre=fibre)
    other = plan(name, diameter_m=factor * size, eye_m=10 * factor * size, fibre=fibre)
    for small, large in zip(one.marks, other.marks, strict=True):
        assert large.at_m == pytest.approx(factor * small.at_m, rel=1e-9)
    for small_step, large_step in zip(one.taper, other.taper, strict=True):
        assert large_step.at_m == pytest.approx(factor * small_step.at_m, rel=1e-9)


@given(st.sampled_from(["hollow-eye", "cover-eye"]), SIZES, st.floats(0.01, 3.0))
def test_pulls_join_up_and_no_stage_is_longer_than_the_tool(name: str, size: float, reach: float) -> None:
    made = plan(name, diameter_m=size, tools=(Tool(name="fid", length_m=reach), Tool(name="stub", length_m=0.005)))
    bury = next(span for span in made.spans if span.kind == "bury")
    assert made.pulls[0].from_m == pytest.approx(bury.from_m)
    assert made.pulls[-1].to_m == pytest.approx(bury.to_m)
    for before, after in pairwise(made.pulls):
        assert before.to_m == after.from_m
    if "tool-too-short" not in codes(made, "stop"):
        assert max(pull.length_m for pull in made.pulls) <= reach + 1e-8
    assert [pull.stage for pull in made.pulls] == list(range(1, len(made.pulls) + 1))
    assert {pull.tool for pull in made.pulls} == {"fid"}


def test_the_first_stage_stops_at_the_crossover() -> None:
    made = plan("cover-eye", diameter_m=0.0127, eye_m=0.115, tools=(Tool(name="wire fid", length_m=0.6),))
    crossover = next(mark.at_m for mark in made.marks if mark.id == "crossover")
    assert [pull.to_m for pull in made.pulls] == pytest.approx([crossover, 1.2968])


SHORT = Tool(name="short fid", length_m=0.26)
WIRE = Tool(name="wire fid", length_m=0.55)
LONG = Tool(name="long fid", length_m=0.9)
THICK = Tool(name="spike", length_m=0.6, thickness_m=0.0061)


@pytest.mark.parametrize(
    ("tools", "used", "stages"),
    [
        ((SHORT,), "short fid", 2),  # a bury of 504 mm
        ((SHORT, WIRE, LONG), "wire fid", 1),  # of those that do it in one, the shortest
        ((THICK, SHORT), "short fid", 2),  # above 0.5 d = 6 mm it does not go in
        ((THICK,), "spike", 1),  # there is no other
    ],
)
def test_of_several_tools_the_one_that_suits_does_the_pull(tools: tuple[Tool, ...], used: str, stages: int) -> None:
    made = plan("hollow-eye", diameter_m=0.012, tools=tools)
    assert {pull.tool for pull in made.pulls} == {used}
    assert len(made.pulls) == stages
    assert ("tool-too-thick" in codes(made, "warn")) == (used == "spike")


@given(st.sampled_from(["hollow-eye", "cover-eye"]), st.integers(4, 64), SIZES)
def test_tapers_shrink_by_pairs_within_their_length(name: str, strands: int, size: float) -> None:
    made = plan(name, diameter_m=size, strands=strands)
    taper = next(span for span in made.spans if span.kind == "taper")
    left = [strands, *(step.strands_left for step in made.taper)]
    if strands % 2:
        assert not made.taper
        assert "taper-impossible" in codes(made)
        return
    assert all(before - after == 2 for before, after in pairwise(left))
    assert left[-1] >= 2
    assert all(taper.from_m < step.at_m < taper.to_m for step in made.taper)


CHECKS: list[tuple[str, dict[str, Any], str, str | None]] = [
    ("hollow-eye", {"length_m": 1.307}, "rope-too-short", "stop"),
    ("hollow-eye", {"length_m": 1.308}, "rope-too-short", None),
    ("hollow-eye", {"construction": "three-strand"}, "construction-unfit", "stop"),
    ("laid-eye", {"construction": "double-braid"}, "construction-unfit", "stop"),
    ("laid-eye", {"strands": 4}, "strands-unfit", "stop"),
    ("cover-eye", {"strands": 24}, "strands-unfit", "warn"),
    ("cover-eye", {"strands": 16}, "strands-unfit", None),
    ("cover-eye", {}, "strands-assumed", "note"),
    ("hollow-eye", {"pin_m": 0.050, "eye_m": 0.1499}, "eye-small-for-pin", "warn"),
    ("hollow-eye", {"pin_m": 0.050, "eye_m": 0.150}, "eye-small-for-pin", None),
    ("hollow-eye", {}, "no-tool", "note"),
    ("hollow-eye", {"tools": (Tool(name="f", length_m=0.3),)}, "tool-short", "note"),
    ("hollow-eye", {"tools": (Tool(name="f", length_m=0.001),)}, "tool-too-short", "stop"),
    ("hollow-eye", {"tools": (Tool(name="f", length_m=0.3, thickness_m=0.0061),)}, "tool-too-thick", "warn"),
    ("hollow-eye", {"tools": (Tool(name="f", length_m=0.3, thickness_m=0.006),)}, "tool-too-thick", None),
    ("cover-eye", {"condition": "used"}, "used-rope", "warn"),
    ("hollow-eye", {"fibre": "hmpe"}, "slippery-fibre", "warn"),
    ("laid-eye", {"fibre": "polyamide", "condition": "wet"}, "wet-nylon", "warn"),
]


@pytest.mark.parametrize(("name", "changes", "code", "level"), CHECKS)
def test_each_check_at_its_boundary(name: str, changes: dict[str, Any], code: str, level: str | None) -> None:
    made = plan(name, **changes)
    found = [check for check in made.checks if check.code == code]
    assert [check.level for check in found] == ([level] if level else [])
    assert all(check.message and check.source for check in made.checks)


def test_stops_come_first() -> None:
    made = plan("hollow-eye", length_m=0.1, condition="used", pin_m=0.2)
    levels = [check.level for check in made.checks]
    assert levels == sorted(levels, key=["stop", "warn", "note"].index)
    assert made.stopped


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("unit", list(Unit))
def test_steps_hold_this_ropes_numbers_and_nothing_unfilled(name: str, unit: Unit) -> None:
    made = plan(name, unit=unit, tools=(Tool(name="fid", length_m=0.3),))
    words = " ".join(made.steps)
    assert "{" not in words
    assert ("150 mm" if unit is Unit.METRIC else "5 29/32 in" if made.inputs.tape_parts == 32 else "5 7/8 in") in words
    assert "maker" in made.steps[0]
    for mark in made.marks:
        assert f"mark {mark.letter}" in words or f"{mark.letter} at" in words


@pytest.mark.parametrize("name", NAMES)
def test_every_number_has_a_formula_and_a_source(name: str) -> None:
    made = plan(name)
    numbers: tuple[Mark | NamedLength, ...] = (*made.marks, *made.lengths)
    for one in numbers:
        assert one.formula
        assert one.worked
        assert one.source
        assert one.common_practice == ("common practice" in one.source)


def test_a_plan_is_kept_whole_as_a_record() -> None:
    made = plan("cover-eye", pin_m=0.05, tools=(Tool(name="fid", length_m=0.3),), lay=Lay.LOOSE)
    assert from_plain(Plan, to_plain(made)) == made


def test_advice_names_what_fits_and_what_is_done_instead() -> None:
    laid = which_methods(load_builtin(), RopeSpec(construction="three-strand", diameter_m=0.012))
    fitting = [one.method_id for one in laid if one.fits]
    assert "laid-eye" in fitting
    assert not any(one.startswith(("hollow", "cover", "double")) for one in fitting)
    kernmantle = which_methods(load_builtin(), RopeSpec(construction="kernmantle", diameter_m=0.011))
    assert kernmantle[0].method_id == ""
    assert "sewn" in kernmantle[0].reason
    assert {one.method_id for one in kernmantle[1:] if one.fits} == {"whip-common", "whip-stitched"}
