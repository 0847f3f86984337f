"""Fill profile, shortening over a bury, strength along the chain."""

from __future__ import annotations

import math
from itertools import pairwise

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from gearlog.domain.plan import Hardware
from gearlog.splicing.braid import length_ratio, swelling_at
from gearlog.splicing.knots import all_knots
from gearlog.splicing.plan import make_plan
from gearlog.splicing.profile import largest_jump
from gearlog.splicing.tapers import largest_step
from tests.splicing.ropes import codes, inputs, method, plan


@given(st.integers(4, 32).map(lambda half: 2 * half), st.floats(0.004, 0.04))
def test_a_hollow_bury_fades_from_full_to_nothing(strands: int, size: float) -> None:
    made = plan("hollow-eye", strands=strands, diameter_m=size)
    assert made.fill[0].fraction == 1
    assert made.fill[-1].fraction == 0
    assert all(before.at_m <= after.at_m for before, after in pairwise(made.fill))
    assert all(before.fraction >= after.fraction for before, after in pairwise(made.fill))
    assert largest_jump(made.fill) == pytest.approx(made.taper[-1].fraction_left)


def test_tail_and_core_of_a_cover_loaded_eye_take_over_from_one_another() -> None:
    """Where the tail fades the core fades in: never less than whole, and no gap anywhere."""
    made = plan("cover-eye", strands=16)
    assert min(point.fraction for point in made.fill) >= 1 - 1e-9
    assert max(point.fraction for point in made.fill) == pytest.approx(1.25)  # the tail's last 4 of 16 on a whole core
    assert not codes(made) & {"too-full", "fill-step"}


@pytest.mark.parametrize(("gap", "apart"), [("0 * d", False), ("taper / 10", True)])
def test_tapers_that_do_not_meet_are_warned_of(gap: str, apart: bool) -> None:
    """The core's taper laid further on: there is a place where neither a whole tail nor a whole core lies."""
    one = method("cover-eye")
    spans = tuple(
        msgspec.structs.replace(span, start=f"{span.start} + {gap}", end=f"{span.end} + {gap}")
        if span.kind == "core-taper"
        else span
        for span in one.spans
    )
    made = make_plan(msgspec.structs.replace(one, spans=spans), inputs("cover-eye", strands=16))
    assert ("tapers-apart" in codes(made, "warn")) == apart
    if (
        apart
    ):  # 6 pairs of 16 strands leave in sevenths of the taper: after a tenth 1 - 0.7 / 8 is left, and no core yet
        told = next(check.message for check in made.checks if check.code == "tapers-apart")
        assert f"only {1 - 0.7 / 8:.0%} of a whole core" in told


def test_pairs_that_leave_at_one_pick_leave_at_once() -> None:
    """16 strands over 252 mm: cuts at 36 i mm; on picks of 100 mm 2 to 4 fall on the first, 5 and 6 on the next."""
    made = plan("cover-eye", strands=16, pick_length_m=0.1)
    assert [step.picks for step in made.taper] == [0, 1, 1, 1, 2, 2]
    assert largest_step(made.taper) == pytest.approx(6 / 16)
    told = next(check.message for check in made.checks if check.code == "taper-step")
    assert "38%" in told


def test_shortening_against_the_integral_over_the_taper() -> None:
    """12 strands, 2 left: 5 pairs over 252 mm; the same by numeric integration of 1 - ratio over the straight fades."""
    made = plan("hollow-eye", strands=12, braid_angle_deg=20.0, swelling=math.sqrt(2))
    angle = math.radians(20)

    def lost(at: float) -> float:
        fill = max(1 - at / 0.252, 2 / 12) if at < 0.252 * 5 / 6 else 2 / 12
        return 1 - length_ratio(angle, swelling_at(fill, math.sqrt(2)))

    wanted = 0.252 * lost(0.0) + quad(lost, 0, 0.252, points=[0.21])[0]
    assert made.shortening is not None
    assert made.shortening.length_m == pytest.approx(wanted, rel=2e-3)
    assert made.shortening.ratio == pytest.approx(0.9314, abs=5e-5)  # trade.md part A


def test_measured_angle_and_swelling_go_before_the_defaults_and_are_named() -> None:
    plain, typed = plan("hollow-eye").shortening, plan("hollow-eye", braid_angle_deg=15.0, swelling=1.3).shortening
    assert plain is not None
    assert typed is not None
    assert "unconfirmed" in plain.source
    assert "own measure" in typed.source
    assert "unconfirmed" not in typed.source
    assert typed.ratio == pytest.approx(0.9749, abs=5e-5)  # trade.md part A
    half = plan("hollow-eye", braid_angle_deg=15.0).shortening
    assert half is not None
    assert "own measure" in half.source
    assert "unconfirmed" in half.source


@pytest.mark.parametrize("knot", all_knots(), ids=lambda knot: knot.id)
def test_the_weakest_part_is_the_lines(knot: object) -> None:
    made = plan("laid-eye", mbs_n=20_000.0, knots=(getattr(knot, "id"),))  # noqa: B009
    kept = getattr(knot, "kept")  # noqa: B009
    assert made.strength.wll_n == pytest.approx(20_000 * min(kept, 0.90) / 10)  # never the product
    assert made.strength.weakest == getattr(knot, "title")  # noqa: B009


def test_hardware_has_its_own_factor_and_unknown_stays_unknown() -> None:
    strong = plan("laid-eye", mbs_n=20_000.0, hardware=(Hardware(name="ring", strength_n=8_000.0),)).strength
    assert strong.weakest == "ring"
    assert strong.wll_n == pytest.approx(8_000 / 5)
    unknown = plan("laid-eye", mbs_n=20_000.0, hardware=(Hardware(name="ring"),)).strength
    assert unknown.wll_n is None
    assert unknown.weakest is not None
    assert "that are known" in unknown.weakest


@pytest.mark.parametrize(
    ("measured", "code"), [(0.0113, "diameter-lost"), (0.0115, None), (0.0125, None), (0.0127, "diameter-grown")]
)
def test_a_rope_that_measures_otherwise_is_told(measured: float, code: str | None) -> None:
    """OCIMF mooring guidelines, of mooring rope: more than about 5 % lost by abrasion, retire."""
    found = codes(plan("hollow-eye", measured_diameter_m=measured, condition="used"))
    assert {"diameter-lost", "diameter-grown"} & found == ({code} if code else set())
