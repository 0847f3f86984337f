"""Retained strength and working load against the published figures (trade.md B.2, B.3, part C)."""

from __future__ import annotations

import pytest

from gearlog.units.measure import Force
from tests.splicing.ropes import codes, plan


def test_a_laid_eye_keeps_the_lower_of_two_published_figures() -> None:
    """COMDTINST M16114.5C Table 7-6: 0.90 to 0.95; NAVEDTRA 14251 ch. 4: about 0.90."""
    strength = plan("laid-eye", mbs_n=24_000.0).strength
    assert strength.retained_fraction == 0.90
    assert strength.retained_source is not None
    assert "COMDTINST M16114.5C" in strength.retained_source
    assert "NAVEDTRA 14251" in strength.retained_source
    assert strength.wll_n == pytest.approx(24_000 * 0.90 / 10)


@pytest.mark.parametrize("name", ["hollow-eye", "cover-eye"])
def test_a_buried_eye_keeps_an_unknown_part(name: str) -> None:
    """No citable figure for braided eyes buried by these methods (trade.md B.2): unknown stays unknown."""
    made = plan(name, mbs_n=24_000.0)
    assert made.strength.retained_fraction is None
    assert made.strength.wll_n is None
    assert "retained-unknown" in codes(made)


def test_an_unknown_breaking_strength_gives_no_working_load() -> None:
    made = plan("laid-eye")
    assert made.strength.mbs_n is None
    assert made.strength.wll_n is None
    assert "mbs-unknown" in codes(made)


def test_wet_polyamide_loses_fifteen_percent() -> None:
    """UFC 4-159-03 Table 3-7."""
    dry = plan("laid-eye", fibre="polyamide", mbs_n=10_000.0).strength
    wet = plan("laid-eye", fibre="polyamide", mbs_n=10_000.0, condition="wet").strength
    assert wet.wll_n == pytest.approx(0.85 * (dry.wll_n or 0))
    assert wet.condition_source is not None
    assert plan("laid-eye", fibre="polyester", condition="wet").strength.condition_fraction == 1


def test_the_users_design_factor_goes_before_ten() -> None:
    """Ten for people: common practice, no source."""
    assert plan("laid-eye").strength.design_factor == 10
    assert plan("laid-eye", design_factor=7.5, mbs_n=1000.0).strength.wll_n == pytest.approx(1000 * 0.9 / 7.5)


# Cal. Code Regs. title 8, 3422(c): 5,000 lbf is 22.24 kN; ANSI Z133 (from memory): 5,400 lbf is 24.02 kN.
@pytest.mark.parametrize(("text", "newtons"), [("5000 lbf", 22_240), ("5400 lbf", 24_020)])
def test_published_rope_strengths_in_both_units(text: str, newtons: float) -> None:
    assert Force.read(text).si == pytest.approx(newtons, abs=5)
