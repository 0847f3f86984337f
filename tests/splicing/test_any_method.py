"""What holds for every built-in method, any rope, eye, length and tape: order, sums, scale, rounding."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import Unit
from gearlog.splicing.method import Method
from gearlog.splicing.method_file import load_builtin
from gearlog.splicing.plan import make_plan
from gearlog.splicing.worked import work_out
from tests.splicing.ropes import INCH
from tests.splicing.test_explain import inputs_of

METHODS = load_builtin()
DIVISION = {(Unit.METRIC, 16): 0.001, (Unit.IMPERIAL, 16): INCH / 16, (Unit.IMPERIAL, 32): INCH / 32}
FIBRES = st.sampled_from(["", "polyester", "polyamide", "hmpe", "manila", "aramid"])
LAID_OFF = {"tail", "bury", "unlay", "tucks", "core-taper"}
"""Stretches that hold; a taper between two marks only fades."""
ropes = st.fixed_dictionaries(
    {
        "diameter_m": st.floats(0.003, 0.06),
        "eye_m": st.floats(0.02, 2.0),
        "finished_m": st.floats(20.0, 60.0),
        "shortest_m": st.floats(20.0, 40.0),
        "longest_m": st.floats(41.0, 60.0),
        "fibre": FIBRES,
        "both_ends": st.booleans(),
        "tapered": st.booleans(),
        "length_m": st.none(),
    }
)
every_method = pytest.mark.parametrize("one", METHODS, ids=[one.id for one in METHODS])
some = settings(max_examples=15)


def ends_of(one: Method, plan: Plan) -> float:
    """Where the last mark or stretch ends (m)."""
    places = [mark.at_m for mark in plan.marks] + [span.to_m for span in plan.spans]
    return max(places)


@every_method
@some
@given(ropes, st.floats(0.5, 1.5))
def test_marks_are_in_order_and_inside_the_rope_or_the_plan_stops(
    one: Method, given_: dict[str, Any], share: float
) -> None:
    """The rope is cut to a share of what the splice reaches; a shorter one is a stop, whatever the method."""
    if "finished" not in one.asks:
        given_["finished_m"] = None
    reach = ends_of(one, make_plan(one, inputs_of(one, **given_)))
    plan = make_plan(one, inputs_of(one, **(given_ | {"length_m": share * reach})))
    places = [mark.at_m for mark in plan.marks]
    assert places == sorted(places)
    assert places[0] >= -1e-12
    if "rope-too-short" not in {check.code for check in plan.checks}:
        assert share >= 1 - 1e-9 or one.origin == "throat"
    elif one.shape not in {"sling", "cord"}:  # those are cut longer than their last mark
        assert share < 1


@every_method
@some
@given(ropes)
def test_parts_add_up_to_the_rope_used(one: Method, given_: dict[str, Any]) -> None:
    plan = make_plan(one, inputs_of(one, **given_))
    parts = {kind: [span.to_m - span.from_m for span in plan.spans if span.kind == kind] for kind in LAID_OFF | {"eye"}}
    first = (parts["tail"] or parts["unlay"] or [0.0])[0]
    wanted: dict[str, Callable[[], float]] = {
        "eye": lambda: first + parts["eye"][0],
        "cord": lambda: first + parts["eye"][0],
        "join": lambda: first,
        "end": lambda: first,
        "loop": lambda: sum(parts["tail"]),
        "sling": lambda: ends_of(one, plan),
        "finish": lambda: 0.0,
    }
    assert plan.rope_used_m == pytest.approx(wanted[one.shape]())


SCALED = [one for one in METHODS if one.id != "laid-long"]  # its breaks lie so many inches apart


@pytest.mark.parametrize("one", SCALED, ids=[one.id for one in SCALED])
@some
@given(ropes, st.floats(0.1, 0.9))
def test_so_many_times_the_rope_is_so_many_times_every_length(
    one: Method, given_: dict[str, Any], factor: float
) -> None:
    """In rope under 1 in, where no tail is fixed in inches, and with twine and picks to scale."""
    given_["diameter_m"] = min(given_["diameter_m"], 0.999 * INCH)
    sizes = given_ | {"twine_m": 0.1 * given_["diameter_m"], "tools": ()}
    lengths = ("diameter_m", "eye_m", "finished_m", "shortest_m", "longest_m", "twine_m")
    large = make_plan(one, inputs_of(one, **sizes))
    small = make_plan(one, inputs_of(one, **(sizes | {name: factor * sizes[name] for name in lengths})))
    for kind in ("lengths", "marks", "taper", "pulls"):
        for whole, part in zip(getattr(large, kind), getattr(small, kind), strict=True):
            at = "at_m" if hasattr(whole, "at_m") else "length_m"
            assert getattr(part, at) == pytest.approx(factor * getattr(whole, at), rel=1e-9, abs=1e-12)
    assert small.rope_used_m == pytest.approx(factor * (large.rope_used_m or 0.0), rel=1e-9, abs=1e-12)
    assert [count.count for count in small.counts] == pytest.approx([count.count for count in large.counts], abs=1)


@every_method
@some
@given(ropes, st.sampled_from(list(DIVISION)), st.sampled_from([None, 0.0047]), st.sampled_from([None, 0.0009]))
def test_what_holds_is_never_shorter_on_the_tape(
    one: Method, given_: dict[str, Any], tape: tuple[Unit, int], pick_m: float | None, twine_m: float | None
) -> None:
    """At whole mm, at 1/16 and at 1/32 in: lengths, buries, tails and the cut length go up, marks lie on a division."""
    division = DIVISION[tape]
    inputs = inputs_of(one, unit=tape[0], tape_parts=tape[1], pick_length_m=pick_m, twine_m=twine_m, **given_)
    plan, worked = make_plan(one, inputs), work_out(one, inputs)
    for length in plan.lengths:
        assert length.tape_m is not None
        assert length.tape_m >= length.length_m - 1e-12, length.name
    for rule in one.spans:
        exact = worked.length_m(rule.end) - worked.length_m(rule.start)
        if rule.kind in LAID_OFF:
            assert worked.tape_m(rule.end) - worked.tape_m(rule.start) >= exact - 1e-9, (rule.kind, rule.end)
    if plan.finished is not None:
        assert plan.finished.shown_cut_m >= plan.finished.cut_m - 1e-12
    for shown in (*(mark.shown_m for mark in plan.marks), *(step.shown_m for step in plan.taper)):
        assert shown / division == pytest.approx(round(shown / division), abs=1e-6)
    on_tape = [mark.shown_m for mark in plan.marks]
    assert all(after >= before - 1e-12 for before, after in pairwise(on_tape))


@every_method
@some
@given(ropes, st.integers(4, 32).map(lambda half: 2 * half))
def test_a_taper_loses_a_pair_at_a_time_within_its_length(one: Method, given_: dict[str, Any], strands: int) -> None:
    plan = make_plan(one, inputs_of(one, strands=strands, **(given_ | {"tapered": False})))
    left = [strands, *(step.strands_left for step in plan.taper)]
    if "strands-unfit" in {check.code for check in plan.checks if check.level == "stop"} or one.taper is None:
        assert not plan.taper
        return
    assert all(before - after == 2 for before, after in pairwise(left))
    assert left[-1] >= 2
    assert [step.fraction_left for step in plan.taper] == pytest.approx([after / strands for after in left[1:]])
