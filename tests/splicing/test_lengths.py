"""Finished and cut length: the plan of the inverse gives back the finished length; sums of the methods' own."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.plan import Plan, PlanInputs, RopeSpec
from gearlog.splicing.method import Method
from gearlog.splicing.method_file import load_builtin
from gearlog.splicing.plan import make_plan
from tests.splicing.ropes import at, codes, method

BACK_AND_FORTH = [one for one in load_builtin() if one.finished and one.finished.finished and one.shape != "sling"]


def plan_of(one: Method, **changes: Any) -> Plan:
    """A plan of any method on 12 mm rope of its own construction."""
    rope: dict[str, Any] = {"construction": one.constructions[0], "diameter_m": 0.012, "fibre": "polyester"}
    fields: dict[str, Any] = {"method": one.id, "eye_m": 0.150}
    for key, value in changes.items():
        (rope if key in RopeSpec.__struct_fields__ else fields)[key] = value
    return make_plan(one, PlanInputs(rope=RopeSpec(**rope), **fields))


@pytest.mark.parametrize("one", BACK_AND_FORTH, ids=lambda one: one.id)
@given(st.floats(4.0, 60.0), st.booleans(), st.floats(0.05, 0.5))
def test_the_inverse_gives_back_the_finished_length(one: Method, wanted: float, both: bool, eye: float) -> None:
    forth = plan_of(one, finished_m=wanted, both_ends=both, eye_m=eye)
    assert forth.cut_length_m is not None
    changes: dict[str, Any] = {"length_m": forth.cut_length_m, "both_ends": both, "eye_m": eye}
    if "finished" in one.asks:
        return  # its marks need the wanted length; the sum below is its check
    back = plan_of(one, **changes)
    assert back.finished is not None
    assert not back.finished.wanted
    assert back.finished.finished_m == pytest.approx(wanted, rel=1e-12)


@pytest.mark.parametrize("name", ["hollow-loop", "double-cord"])
@given(st.floats(4.0, 60.0))
def test_both_sums_of_a_method_are_each_others_inverse(name: str, wanted: float) -> None:
    from gearlog.splicing.formula import evaluate, metres

    one = method(name)
    assert one.finished is not None
    made = plan_of(one, finished_m=wanted)
    assert made.finished is not None
    shortening = metres(made.shortening.length_m if made.shortening else 0.0)
    names = {length.name: metres(length.length_m) for length in made.lengths} | {
        "cut": metres(made.finished.cut_m),
        "shortening": shortening,
        "eye": metres(0.150),
        "loop": metres(0.300),
        "fid": metres(0.252),
    }
    assert float(evaluate(one.finished.finished, names).value) == pytest.approx(wanted, rel=1e-12)


def test_eye_to_eye_by_hand() -> None:
    """trade.md part A: Lf = cut - sum of rope used + sum of eyes; 0.216 + 0.3 m used at each end."""
    made = plan_of(method("laid-eye"), finished_m=3.0, both_ends=True)
    assert made.cut_length_m == pytest.approx(3.0 + 2 * 0.516 - 2 * 0.150)


def test_an_endless_loop_by_hand() -> None:
    """Both ends overlap by their buries: 4 m round, 2 x 0.504 m buried, and what the two buries shorten."""
    made = plan_of(method("hollow-loop"), finished_m=4.0)
    assert made.shortening is not None
    assert made.cut_length_m == pytest.approx(4.0 + 1.008 + made.shortening.length_m)
    assert made.cut_length_m is not None
    assert at(made, "1") == pytest.approx(0.504)
    assert at(made, "3") == pytest.approx(made.cut_length_m - 0.504)


@given(st.floats(2.0, 6.0), st.floats(0.05, 5.0), st.floats(0.05, 0.3))
def test_an_adjustable_sling_reaches_from_its_shortest_to_its_longest(least: float, more: float, eye: float) -> None:
    """Rope in the loop and the free tail add up to the same at both settings; the tail keeps its stopper."""
    made = plan_of(method("hollow-sling"), shortest_m=least, longest_m=least + more, eye_m=eye)
    named = {length.name: length.length_m for length in made.lengths}
    crown_to_crown = eye + named["between"] + named["channel"] + named["longest_loop"]
    assert crown_to_crown == pytest.approx(least + more)
    shortest_loop = named["longest_loop"] - more
    assert shortest_loop == pytest.approx(eye)
    shorter = 0.0 if made.shortening is None else made.shortening.length_m
    assert made.cut_length_m == pytest.approx(
        named["stop"] + 2 * named["channel"] + 2 * named["longest_loop"] + named["between"] + 2 * eye + named["bury"]
        + shorter
    )  # fmt: skip


def test_a_sling_is_cut_longer_by_what_its_channel_and_its_bury_shorten() -> None:
    """trade.md part A: over whatever lies in it the braid is 0.9314 long at 20 deg and sqrt 2; the channel is whole."""
    eye, sling = plan_of(method("hollow-eye")), plan_of(method("hollow-sling"), shortest_m=2.5, longest_m=4.0)
    assert eye.shortening is not None
    assert sling.shortening is not None
    assert sling.shortening.length_m - eye.shortening.length_m == pytest.approx(0.504 * (1 - 0.9314), rel=1e-3)
    bare = 0.144 + 2 * 0.504 + 2 * 1.65 + 1.696 + 0.3 + 0.504  # stop, channel twice, loop, between, eye, bury
    assert sling.cut_length_m == pytest.approx(bare + sling.shortening.length_m)
    assert at(sling, "1") - at(sling, "2") == pytest.approx(0.3)  # the fixed eye's loop stays what was asked


def test_the_load_of_an_endless_sling_stretches_its_channel() -> None:
    """The rope comes round the working loop into the mouth that looks at the slack loop's outside, and goes on inside.

    Put in at the other mouth both legs of the working loop would leave the channel at one end: its load would push the
    channel together, which lets go, and the slack loop would have to hold.
    """
    made = plan_of(method("hollow-endless-sling"), shortest_m=2.5, longest_m=4.0)
    named = {length.name: length.length_m for length in made.lengths}
    channel = [span for span in made.spans if span.kind == "bury"][1]
    first = made.pulls[0]
    assert (first.from_m, first.to_m) == pytest.approx((channel.from_m, channel.to_m))
    assert (at(made, "in"), at(made, "out")) == pytest.approx((channel.from_m, channel.to_m))
    # Round the working loop: from the channel's far mouth along the rope to its near one, and the channel itself.
    assert made.shortening is not None
    over_channel = named["channel"] * (1 - made.shortening.ratio)
    over_join = made.shortening.length_m - over_channel
    goes_in = at(made, "3") - over_join - named["slack"] / 2 - named["channel"]
    assert goes_in - channel.to_m + named["channel"] - over_channel == pytest.approx(2 * 4.0)
    told = next(step for step in made.steps if "Pass it in at" in step)
    assert told.index("mark c") < told.index("mark d")


def test_a_sling_whose_parts_would_meet_is_stopped() -> None:
    one = method("hollow-sling")
    # 2 eyes, channel 504, bury 504, 10 d = 120 mm: 1.428 m is the shortest that has room
    assert "range-too-short" in codes(plan_of(one, shortest_m=1.427, longest_m=2.0), "stop")
    assert "range-too-short" not in codes(plan_of(one, shortest_m=1.429, longest_m=2.0))
    assert "range-upside-down" in codes(plan_of(one, shortest_m=2.0, longest_m=1.9), "stop")


def test_two_splices_on_one_piece_keep_ten_diameters_apart() -> None:
    """29 CFR 1910.184(h)(3): 10 d of clear rope, here 120 mm; each laid eye takes up 0.612 m."""
    one = method("laid-eye")
    used = 0.516
    for clear, stopped in ((0.119, True), (0.121, False)):
        cut = 2 * 0.612 + clear
        made = plan_of(one, finished_m=cut - 2 * used + 0.3, both_ends=True)
        assert ("splices-too-close" in codes(made, "stop")) == stopped


@pytest.mark.parametrize("one", load_builtin(), ids=lambda one: one.id)
def test_what_a_method_asks_for_is_named_when_missing(one: Method) -> None:
    made = plan_of(one, eye_m=None)
    assert {f"{name}-missing" for name in one.asks} == {
        check.code for check in made.checks if check.code.endswith("-missing")
    }
    assert made.stopped == bool(one.asks)
    assert bool(made.marks) != bool(one.asks)


def test_a_learned_correction_moves_the_loop_and_says_so() -> None:
    one = method("hollow-eye")
    plain = plan_of(one)
    made = plan_of(one, eye_correction_m=0.004, correction_words="eye 4 mm short, n 3")
    assert at(made, "2") - at(plain, "2") == pytest.approx(0.008)
    assert at(made, "1") == at(plain, "1")
    assert any("n 3" in check.message for check in made.checks if check.code == "eye-corrected")
    assert "eye-corrected" not in codes(plain)
    assert msgspec.structs.replace(made.inputs, eye_correction_m=0.0, correction_words="") == plain.inputs


def test_a_braid_that_jams_over_its_tail_is_stopped() -> None:
    """trade.md part A: k must be below 1 / sin b; at 30 deg that is 2."""
    for swelling, stopped in ((1.99, False), (2.01, True), (2.5, True)):
        made = plan_of(method("hollow-eye"), braid_angle_deg=30.0, swelling=swelling)
        assert ("braid-jams" in codes(made, "stop")) == stopped, swelling


@pytest.mark.parametrize("name", ["laid-short", "laid-long", "hollow-end-to-end", "double-end-to-end"])
def test_the_length_of_one_rope_is_not_taken_for_that_of_two_joined(name: str) -> None:
    """What comes out of a join is known only where both ropes are; a short rope still needs to hold its own part."""
    made = plan_of(method(name), length_m=58.2)
    assert made.finished is None
    asked = plan_of(method(name), length_m=58.2, finished_m=100.0)
    assert asked.finished is not None
    assert asked.finished.cut_m > 100.0
    assert "rope-too-short" not in codes(asked)
    assert "rope-too-short" in codes(plan_of(method(name), length_m=0.2), "stop")
