"""Strength for the size, climbing lines, slings, stretch, break tests against the documents (trade.md B.1 to B.3)."""

from __future__ import annotations

import math
from typing import Any

import pytest

from gearlog.domain.plan import Check, Plan
from gearlog.domain.vocabulary import Unit, Use
from gearlog.splicing.checks_rope import LAID_LBF, basket_over_straight, laid_strength_n, reference_tension_n
from gearlog.splicing.explain import explain
from tests.splicing.ropes import INCH, codes, method, plan
from tests.splicing.test_lengths import plan_of

POUND_FORCE = 4.4482216152605  # N, NIST Special Publication 811


def check_of(made: Plan, code: str) -> Check:
    (one,) = [check for check in made.checks if check.code == code]
    return one


@pytest.mark.parametrize(("fibre", "circumference_in", "pounds"), [("manila", 3.0, 8_100), ("polyamide", 2.5, 15_000)])
def test_laid_rope_breaks_at_a_factor_times_its_circumference_squared(
    fibre: str, circumference_in: float, pounds: int
) -> None:
    """NAVEDTRA 14043: manila 900 C^2, nylon 2,400 C^2, C in inches, lbf."""
    diameter_m = circumference_in * INCH / math.pi
    assert laid_strength_n(LAID_LBF[fibre], diameter_m) == pytest.approx(pounds * POUND_FORCE, rel=1e-12)


@pytest.mark.parametrize(
    ("fibre", "times", "level"),
    [("manila", 2.01, "warn"), ("manila", 1.99, None), ("polyamide", 0.51, None), ("polyamide", 0.49, "note"),
     ("polyester", 9.0, None)],
)  # fmt: skip
def test_a_strength_far_from_the_handbooks_rule_is_asked_about(fibre: str, times: float, level: str | None) -> None:
    """NAVEDTRA 14043: C = 3 in of manila 8,100 lbf, of nylon 21,600 lbf; twice and half are our own margin."""
    pounds = {"manila": 8_100, "polyamide": 21_600, "polyester": 8_100}[fibre]
    made = plan("laid-eye", fibre=fibre, diameter_m=3 * INCH / math.pi, mbs_n=times * pounds * POUND_FORCE)
    assert [check.level for check in made.checks if check.code == "mbs-unlikely"] == ([level] if level else [])
    if level:
        assert "NAVEDTRA 14043" in check_of(made, "mbs-unlikely").source


# 29 CFR 1910.184 old Table N-184-16, manila rope slings, lbf: straight, choker, baskets at 90, 60, 45, 30 deg from the
# horizontal, printed to 10 lbf.
SLINGS = [(480, 240, (960, 830, 680, 480)), (790, 395, (1_580, 1_370, 1_120, 790))]


@pytest.mark.parametrize(("straight", "choker", "baskets"), SLINGS)
def test_a_basket_carries_by_the_sine_of_its_legs_angle(straight: int, choker: int, baskets: tuple[int, ...]) -> None:
    worked = [straight * basket_over_straight(angle) for angle in (90, 60, 45, 30)]
    assert worked == pytest.approx(baskets, abs=5)
    told = check_of(plan_of(method("hollow-loop"), finished_m=3.0), "hitches")
    assert f"Choked, a sling carries {choker / straight:g} of it" in told.message
    assert "Table N-184-16" in told.source
    for angle, basket in zip((60, 45, 30), baskets[1:], strict=True):
        assert f"{basket / straight:.1f}" == f"{float(told.message.split(f' at {angle} deg')[0].split()[-1]):.1f}"


@pytest.mark.parametrize("name", ["hollow-eye", "laid-eye"])
def test_hitches_are_told_of_slings_alone(name: str) -> None:
    assert "hitches" not in codes(plan(name))


LINES: list[tuple[dict[str, Any], tuple[str, ...]]] = [
    # California Code of Regulations, title 8, 3422(c): 1/2 in, 5,000 lbf; 7/16 in (11 mm) where all else matches
    ({"diameter_m": 0.5 * INCH, "mbs_n": 5400 * POUND_FORCE}, ()),
    ({"diameter_m": 0.0126, "mbs_n": 5400 * POUND_FORCE}, ("strength and stretch (at most 7 % at 500 lbf)",)),
    ({"diameter_m": 0.011, "mbs_n": 5400 * POUND_FORCE}, ("only where strength and stretch",)),
    ({"diameter_m": 0.0109, "mbs_n": 5400 * POUND_FORCE}, ("thinner than 7/16 in (11 mm)",)),
    ({"diameter_m": 0.5 * INCH, "mbs_n": 4999 * POUND_FORCE}, ("5,000 lbf (22.24 kN)", "5,400 lbf", "3422(c)")),
    # ANSI Z133, from memory: 5,400 lbf, 24.02 kN
    ({"diameter_m": 0.5 * INCH, "mbs_n": 5000 * POUND_FORCE}, ("5,400 lbf (24.02 kN)",)),
    # EN 1891, from memory: 22 kN (type A), 18 kN (type B); with its terminations 15 and 12 kN for 3 minutes
    ({"diameter_m": 0.5 * INCH, "mbs_n": 21_900.0}, ("22 kN (type A) or 18 kN (type B)",)),
    ({"diameter_m": 0.5 * INCH, "mbs_n": 29_000.0, "knots": ("any-knot",)}, ("15 kN (type A) or 12 kN (type B)",)),
    ({"diameter_m": 0.5 * INCH, "mbs_n": 31_000.0, "knots": ("any-knot",)}, ()),
    ({"diameter_m": 0.010, "use": Use.RIGGING, "mbs_n": 1_000.0}, ()),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "told"), LINES)
def test_what_is_asked_of_a_climbing_line(changes: dict[str, Any], told: tuple[str, ...]) -> None:
    made = plan("laid-eye", **changes)
    if not told:
        assert "climbing-line" not in codes(made)
        return
    found = check_of(made, "climbing-line")
    assert found.level == "note"
    for words in told:
        assert words in found.message + found.source
    remembered = any(words in found.message for words in ("5,400 lbf", "type A"))
    assert ("from memory, unconfirmed" in found.source) == remembered


def test_nylon_works_at_up_to_a_third_of_stretch() -> None:
    """NAVEDTRA 12018: a third of stretch at work, about half its length at the break."""
    made = plan("laid-eye", fibre="polyamide", length_m=6.0)
    told = check_of(made, "nylon-stretch")
    assert "2000 mm" in told.message
    assert "half as long again" in told.message
    assert "NAVEDTRA 12018" in told.source
    assert "nylon-stretch" not in codes(plan("laid-eye", fibre="polyester", length_m=6.0))


@pytest.mark.parametrize(("factor", "warned"), [(1.33, True), (4 / 3, False), (10.0, False)])
def test_a_rope_is_not_loaded_above_three_quarters_of_its_strength(factor: float, warned: bool) -> None:
    """NAVEDTRA 14160: loading above 75 % damages for good."""
    made = plan("laid-eye", design_factor=factor)
    assert ("factor-too-small" in codes(made, "warn")) == warned
    if warned:
        assert "NAVEDTRA 14160" in check_of(made, "factor-too-small").source
    assert "not loaded above 75% of" in check_of(plan("hollow-eye"), "break-test").message


def test_a_break_test_is_made_and_read_as_the_standard_says() -> None:
    """ISO 2307:2010 5.1: eye 6 d, pin 2 d; 9.2: marks 2 d to 3 d from the splice; 9.7.2: from 90 %, never by 10/9."""
    told = check_of(plan("hollow-eye", diameter_m=0.012), "break-test")
    assert "eyes of 72 mm inside or longer on pins of 24 mm or thicker" in told.message
    assert "gauge marks 24 mm to 36 mm from the splice" in told.message
    assert "outside the marks counts from 90%" in told.message
    assert "not scaled up by 10/9" in told.message
    assert "ISO 2307:2010 5.1, 9.2, 9.7.2" in told.source
    assert "break-test" not in codes(plan("laid-eye"))  # what a laid eye keeps is published


@pytest.mark.parametrize(("millimetres", "newtons"), [(10, 125), (12, 180), (16, 320)])
def test_a_rope_is_measured_at_its_reference_tension(millimetres: int, newtons: int) -> None:
    """ISO 2307 Annex A, from memory: n^2 / 8 daN, n the reference number in mm."""
    assert reference_tension_n(millimetres / 1000) == pytest.approx(newtons)
    told = check_of(plan("hollow-eye", diameter_m=millimetres / 1000), "break-test")
    assert f"measured at {newtons} N" in told.message
    assert "from memory, unconfirmed" in told.source
    pounds = check_of(plan("hollow-eye", diameter_m=millimetres / 1000, unit=Unit.IMPERIAL), "break-test")
    assert f"measured at {newtons / POUND_FORCE:.0f} lbf" in pounds.message


@pytest.mark.parametrize("name", ["hollow-eye", "laid-eye"])
def test_nothing_is_taken_off_between_two_temperatures(name: str) -> None:
    """29 CFR 1910.184(h)(2): -20 F to +180 F."""
    one = method(name)
    (kept,) = [each for each in explain(plan(name), one) if each.key == "strength.condition_fraction"]
    low, high = ((fahrenheit - 32) / 1.8 for fahrenheit in (-20, 180))
    assert f"from {low:.1f} to {high:.1f} degC (-20 to 180 F)" in kept.source
    assert "1910.184(h)(2)" in kept.source


def test_a_mooring_eye_is_five_fittings_long() -> None:
    """NSTM 613-2.5.1; named beside the three pins of common practice."""
    told = check_of(plan("laid-eye", eye_m=0.149, pin_m=0.050), "eye-small-for-pin")
    assert "of mooring eyes 5 are asked (250 mm)" in told.message
    assert "NSTM 613-2.5.1" in told.source
    (eye,) = [
        each for each in explain(plan("laid-eye", pin_m=0.050), method("laid-eye")) if each.key == "eye.inside_length_m"
    ]
    assert any("of mooring eyes 5: NSTM 613-2.5.1" in line for line in eye.inputs)


def test_the_eye_is_explained_with_what_each_source_says_of_it() -> None:
    """29 CFR 1926.251(d)(2): 60 deg; 29 CFR 1910.184 Fig. N-184-4: 2 d, or 8 d where marked; ISO 2307 5.1: 6 d."""
    one = method("laid-eye")
    found = {each.key: each.inputs for each in explain(plan("laid-eye", pin_m=0.050), one)}
    said = {key: " ".join(found[f"eye.{key}"]) for key in ("half_angle_deg", "d_over_d", "inside_length_m")}
    assert "60 degrees at most: 29 CFR 1926.251 (d)(2)" in said["half_angle_deg"]
    assert "at least 2 are asked: 29 CFR 1910.184 Fig. N-184-4; 8 where so marked" in said["d_over_d"]
    assert "at least 6 rope diameters are asked: ISO 2307:2010 5.1" in said["inside_length_m"]


def test_a_single_braid_is_a_twill_of_twelve() -> None:
    """NAVEDTRA 14067 ch. 3: 12 strands, each over two, under two."""
    made = plan("hollow-eye")
    told = check_of(made, "strands-assumed")
    assert "12 are taken" in told.message
    assert "NAVEDTRA 14067 ch. 3 (single braid, over two, under two)" in told.source
