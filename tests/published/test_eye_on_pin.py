"""The eye on a pin against trade.md part A and against a general numeric solver (scipy.optimize.brentq)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from gearlog.splicing.explain import explain
from gearlog.splicing.eye import eye_geometry, leg_tension_ratio, throat_distance
from tests.splicing.ropes import codes, method, plan

D = 0.050


def loop(x: float, r: float) -> float:
    """The loop equation, written anew from its definition."""
    return 2 * math.sqrt(x * x - r * r) + r * (math.pi + 2 * math.asin(r / x))


# eye over D, x over D, half angle, leg ratio: trade.md part A, worked from the equation.
CHECK_VALUES = [(3.0, 2.1564, 13.407, 0.51401), (2.0, None, 27.069, 0.56151)]


@pytest.mark.parametrize(("eye", "x", "half", "ratio"), CHECK_VALUES)
def test_check_values(eye: float, x: float | None, half: float, ratio: float) -> None:
    geometry = eye_geometry(eye * D, 0.012, D)
    assert geometry.half_angle_deg == pytest.approx(half, abs=5e-4)
    assert geometry.leg_tension_ratio == pytest.approx(ratio, abs=5e-6)
    if x is not None:
        assert (throat_distance(2 * eye * D, D) or 0) / D == pytest.approx(x, abs=5e-5)


def test_sixty_degrees_are_met_from_its_published_ratio() -> None:
    """29 CFR 1926.251(d): 60 deg included, met from eye = 1.9132 D (trade.md part A)."""
    assert 2 * (eye_geometry(1.9132 * D, 0.012, D).half_angle_deg or 90) == pytest.approx(60, abs=0.005)


@given(st.floats(0.002, 0.5), st.floats(1.001, 100.0))
def test_the_throat_lies_where_a_numeric_solver_finds_it(pin: float, over: float) -> None:
    circumference = over * math.pi * pin
    found = throat_distance(circumference, pin)
    wanted = brentq(lambda x: loop(x, pin / 2) - circumference, pin / 2, circumference, xtol=1e-14)
    assert found == pytest.approx(wanted, rel=1e-9)


@given(st.floats(0.002, 0.5), st.floats(1.001, 100.0))
def test_the_contact_arc_is_what_the_two_straight_legs_leave_of_the_loop(pin: float, over: float) -> None:
    """trade.md part A: arc r (pi + 2 h), straight legs 2 sqrt(x^2 - r^2), together the loop."""
    eye = over * math.pi * pin / 2
    geometry = eye_geometry(eye, 0.012, pin)
    x = brentq(lambda x: loop(x, pin / 2) - 2 * eye, pin / 2, 2 * eye, xtol=1e-14)
    assert geometry.contact_arc_m == pytest.approx(2 * eye - 2 * math.sqrt(x * x - pin * pin / 4), rel=1e-7)


def test_an_eye_three_pins_long_lies_on_its_pin_over_a_known_arc() -> None:
    """Eye = 3 D: h = 13.407 deg (trade.md part A), so r (pi + 2 h) = 1.8048 D; without a pin there is no arc."""
    assert eye_geometry(3 * D, 0.012, D).contact_arc_m == pytest.approx(1.8048 * D, abs=5e-5 * D)
    assert eye_geometry(3 * D, 0.012, None).contact_arc_m is None


def test_a_pin_that_does_not_fit_has_no_angle_and_stops_the_plan() -> None:
    assert throat_distance(2 * 0.150, 0.0956) is None  # 2 eye < pi D
    assert throat_distance(2 * 0.150, 0.0954) is not None
    made = plan("hollow-eye", pin_m=0.0956)
    assert "pin-too-large" in codes(made, "stop")
    assert made.eye is not None
    assert made.eye.half_angle_deg is None


# Two legs, T/W = 1 / (2 cos(A/2)), A between the legs (trade.md B.5); 30 and 60 deg from the vertical on 2,000 lbf:
# 1,154 and 2,000 lbf a leg (Michigan State University rigging tables).
@pytest.mark.parametrize(
    ("included", "ratio"), [(0, 0.5), (30, 0.5176), (60, 0.5774), (90, 0.7071), (120, 1.0), (150, 1.9319)]
)
def test_two_leg_load(included: float, ratio: float) -> None:
    assert leg_tension_ratio(math.radians(included / 2)) == pytest.approx(ratio, abs=5e-5)


def test_two_leg_load_of_the_rigging_tables() -> None:
    assert 2000 * leg_tension_ratio(math.radians(30)) == pytest.approx(1154, abs=1)
    assert 2000 * leg_tension_ratio(math.radians(60)) == pytest.approx(2000, abs=1)


def test_a_thimble_and_a_stem_are_told_by_the_loop() -> None:
    """trade.md part A: the loop is 2 eye, of a thimble the length of its groove bed, over a stem at least its girth."""
    found = {each.key: each for each in explain(plan("hollow-eye"), method("hollow-eye"))}
    told = " ".join(found["eye.inside_length_m"].inputs)
    assert "round a thimble it is half of the groove's length" in told
    assert "over a stem half of its girth" in told


@given(st.floats(0.05, 1.0), st.floats(0.01, 2.5))
def test_a_stem_goes_into_the_eye_where_its_girth_is_the_loop_at_most(eye: float, girth: float) -> None:
    """trade.md part A: C >= g."""
    made = plan("hollow-eye", eye_m=eye, pin_m=girth / math.pi)
    if not math.isclose(girth, 2 * eye, rel_tol=1e-9):
        assert ("pin-too-large" in codes(made, "stop")) == (girth > 2 * eye)
