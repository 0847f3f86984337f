"""Braid geometry against the check values of trade.md part A and against the length of a helix worked numerically."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from gearlog.splicing.braid import angle_from_pitch, length_ratio, pitch_m, swelling_at, swollen_angle
from tests.splicing.ropes import plan

CHECK_VALUES = [(20, math.sqrt(2), 28.93, 0.9314), (15, 1.3, 19.66, 0.9749)]


@pytest.mark.parametrize(("angle", "swelling", "after", "ratio"), CHECK_VALUES)
def test_check_values(angle: float, swelling: float, after: float, ratio: float) -> None:
    swollen = swollen_angle(math.radians(angle), swelling)
    assert swollen is not None
    assert math.degrees(swollen) == pytest.approx(after, abs=0.005)
    assert length_ratio(math.radians(angle), swelling) == pytest.approx(ratio, abs=5e-5)


def test_a_braid_jams_at_the_limit() -> None:
    """B = 30 deg, k = 2: 90 deg, ratio 0; k must stay below 1 / sin b."""
    assert length_ratio(math.radians(30), 2.0) == pytest.approx(0, abs=1e-7)
    assert length_ratio(math.radians(30), 2.5) == 0
    assert swollen_angle(math.radians(30), 2.5) is None


@given(st.floats(5, 45), st.floats(1.0, 1.4), st.floats(0.002, 0.05))
def test_strand_length_is_kept(angle_deg: float, swelling: float, diameter: float) -> None:
    """The helix's length per turn, integrated numerically, is the same before and after."""
    before = math.radians(angle_deg)
    after = swollen_angle(before, swelling)
    assert after is not None

    def turn(mean: float, angle: float) -> float:
        rise = pitch_m(mean, angle) / (2 * math.pi)
        return float(quad(lambda _: math.hypot(mean / 2, rise), 0, 2 * math.pi)[0])

    assert turn(swelling * diameter, after) == pytest.approx(turn(diameter, before), rel=1e-9)
    shortened = pitch_m(swelling * diameter, after) / pitch_m(diameter, before)
    assert shortened == pytest.approx(length_ratio(before, swelling), rel=1e-9)


@given(st.floats(5, 60), st.floats(0.002, 0.05))
def test_the_angle_follows_from_the_measured_pitch(angle_deg: float, diameter: float) -> None:
    angle = math.radians(angle_deg)
    assert angle_from_pitch(diameter, pitch_m(diameter, angle)) == pytest.approx(angle, rel=1e-12)


def test_areas_add_up_where_the_tail_fades() -> None:
    assert swelling_at(0, math.sqrt(2)) == 1
    assert swelling_at(1, math.sqrt(2)) == pytest.approx(math.sqrt(2))
    assert swelling_at(0.5, math.sqrt(2)) == pytest.approx(math.sqrt(1.5))


def test_the_angle_from_picks_stands_in_the_plan() -> None:
    """12 carriers: one turn spans 6 picks. Mean diameter 2/3 of nominal: mean radius by area of a filled circle."""
    made = plan("hollow-eye", strands=12, diameter_m=0.012, pick_length_m=0.0115).shortening
    assert made is not None
    mean = 2 * quad(lambda r: r * 2 * math.pi * r, 0, 0.006)[0] / (math.pi * 0.006**2)
    assert made.braid_angle_deg == pytest.approx(math.degrees(math.atan(math.pi * mean / (6 * 0.0115))))
    assert "from the pick length" in made.source
    typed = plan("hollow-eye", strands=12, pick_length_m=0.0115, braid_angle_deg=25.0).shortening
    assert typed is not None
    assert typed.braid_angle_deg == 25
