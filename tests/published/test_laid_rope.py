"""Laid rope against the published rules (trade.md B.1). Each row names its document."""

from __future__ import annotations

import pytest

from tests.splicing.ropes import INCH, codes, plan

TUCKS = [
    ("manila", 3, "29 CFR 1910.184(h)(3)(i); 1926.251(d)(2)(i)"),
    ("sisal", 3, "29 CFR 1910.184(h)(3)(i)"),
    ("polyester", 4, "29 CFR 1910.184(h)(3)(ii); 1926.251(d)(2)"),
    ("polypropylene", 4, "29 CFR 1910.184(h)(3)(ii)"),
    ("polyamide", 4, "29 CFR 1910.184(h)(3)(ii); NAVEDTRA 14067 ch. 3 (4 or 5)"),
]


@pytest.mark.parametrize(("fibre", "least", "source"), TUCKS)
def test_an_eye_has_the_full_tucks_that_the_rule_asks(fibre: str, least: int, source: str) -> None:
    for size_in in (0.5, 2.0):
        tucks = plan("laid-eye", diameter_m=size_in * INCH, fibre=fibre).tucks
        assert tucks is not None
        assert tucks.count == least, source
        assert "29 CFR 1910.184" in tucks.source


# 29 CFR 1910.184(h)(3)(iii): six rope diameters below one inch, six inches from one inch on.
TAILS_IN = [(0.25, 1.5), (0.5, 3.0), (0.875, 5.25), (0.999, 5.994), (1.0, 6.0), (2.0, 6.0), (3.0, 6.0)]


@pytest.mark.parametrize(("size_in", "tail_in"), TAILS_IN)
@pytest.mark.parametrize("fibre", ["polyamide", "polyester", "manila"])
def test_tails_beyond_the_last_tuck(size_in: float, tail_in: float, fibre: str) -> None:
    tucks = plan("laid-eye", diameter_m=size_in * INCH, fibre=fibre).tucks
    assert tucks is not None
    assert tucks.tail_m == pytest.approx(tail_in * INCH, rel=1e-12)
    assert "1910.184" in tucks.tail_source


def test_nylon_is_told_that_a_fifth_tuck_is_published() -> None:
    """NAVEDTRA 14067 ch. 3: four or five tucks in slippery nylon."""
    made = plan("laid-eye", fibre="polyamide")
    assert any(check.code == "slippery-fibre" and "NAVEDTRA 14067" in check.source for check in made.checks)


@pytest.mark.parametrize(
    ("size_in", "fibre"), [(0.5, "manila"), (0.5, "polyester"), (1.5, "polyamide"), (2.0, "polyester")]
)
def test_turns_to_unlay_lie_between_five_and_ten(size_in: float, fibre: str) -> None:
    """NAVEDTRA 14251 ch. 4 names 5 turns, NAVEDTRA 12018 ch. 7 names 8 to 10."""
    made = plan("laid-eye", diameter_m=size_in * INCH, fibre=fibre)
    assert made.tucks is not None
    turns = made.tucks.unlay_m / (3 * size_in * INCH)
    assert 5 - 1e-9 <= turns <= 10
    assert "turns" not in codes(made)


def test_unlaid_length_follows_tucks_slant_and_tail() -> None:
    """trade.md part A: unlay = N u (1 + a) + t; here u = 2/3 lay, lay = 3 d, a = 0.5, t = 6 d."""
    tucks = plan("laid-eye", diameter_m=0.010).tucks
    assert tucks is not None
    assert tucks.unlay_m == pytest.approx(4 * 0.020 * 1.5 + 0.060)


def test_a_measured_lay_length_goes_before_the_formula() -> None:
    made = plan("laid-eye", diameter_m=0.010, lay_length_m=0.036)
    assert made.tucks is not None
    assert made.tucks.tuck_m == pytest.approx(0.024)
    assert next(one for one in made.lengths if one.name == "lay").source == "the user's own measure"


@pytest.mark.parametrize(("clear_m", "level"), [(0.127, None), (0.126, "warn"), (-0.01, "stop")])
def test_ten_diameters_of_clear_rope_between_splices(clear_m: float, level: str | None) -> None:
    """29 CFR 1910.184(h)(3), 1926.251(d): 10 d, for 12.7 mm 127 mm."""
    made = plan("laid-eye", diameter_m=0.0127, clear_rope_m=clear_m)
    found = [check.level for check in made.checks if check.code == "splices-too-close"]
    assert found == ([level] if level else [])


def test_slings_are_made_from_new_rope_only() -> None:
    """29 CFR 1910.184(h)."""
    assert "used-rope" in codes(plan("laid-eye", condition="used"), "warn")
    assert "used-rope" not in codes(plan("laid-eye", condition="new"))


def test_curvature_under_two_diameters_is_warned() -> None:
    """29 CFR 1910.184 Fig. N-184-4: at least two rope diameters."""
    assert "curvature" in codes(plan("laid-eye", pin_m=0.0239), "warn")
    assert "curvature" not in codes(plan("laid-eye", pin_m=0.024))


def test_an_eye_under_six_diameters_is_warned() -> None:
    """ISO 2307:2010 5.1, of a test piece: inside of a closed eye at least 6 d."""
    assert "eye-small" in codes(plan("laid-eye", eye_m=0.0719))
    assert "eye-small" not in codes(plan("laid-eye", eye_m=0.072))


def test_the_legs_may_include_sixty_degrees_at_most() -> None:
    """29 CFR 1926.251(d)(2); from eye = 1.9132 D up (solved from the loop equation, trade.md part A)."""
    assert "throat-angle" in codes(plan("laid-eye", pin_m=0.050, eye_m=1.9130 * 0.050))
    assert "throat-angle" not in codes(plan("laid-eye", pin_m=0.050, eye_m=1.9135 * 0.050))
