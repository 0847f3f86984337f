"""Joins, knots and finishes of laid rope against the published figures (trade.md B.1, B.2)."""

from __future__ import annotations

import pytest

from gearlog.splicing.knots import all_knots, knot
from tests.splicing.ropes import INCH, at, codes, method
from tests.splicing.test_lengths import plan_of

# 29 CFR 1910.184(h)(3)(i), (ii); 1926.251(d)(2): at least 3 or 4 full tucks on each side, 6 or 8 in all.
SHORT = [("manila", 6), ("hemp", 6), ("polyester", 8), ("polyamide", 8), ("polypropylene", 8)]


@pytest.mark.parametrize(("fibre", "tucks"), SHORT)
def test_a_short_splice_has_the_tucks_of_the_rule(fibre: str, tucks: int) -> None:
    made = plan_of(method("laid-short"), fibre=fibre)
    assert made.tucks is not None
    assert (made.tucks.count, made.tucks.sides) == (tucks, 2)
    assert "1910.184" in made.tucks.source


def test_a_short_splice_keeps_the_lower_of_two_published_figures() -> None:
    """COMDTINST M16114.5C Table 7-6: 0.85; NAVEDTRA 14251 ch. 4: up to 1.00."""
    strength = plan_of(method("laid-short")).strength
    assert strength.retained_fraction == 0.85
    assert strength.retained_source is not None
    assert "NAVEDTRA 14251" in strength.retained_source


def test_a_short_splice_unlays_about_six_turns() -> None:
    """TM 5-684 / NAVFAC MO-200, 15-24 b: about 6 turns, at least 3 tucks."""
    made = plan_of(method("laid-short"), diameter_m=0.5 * INCH, fibre="polyester")
    assert made.tucks is not None
    assert made.tucks.unlay_m / (3 * 0.5 * INCH) == pytest.approx(6, abs=1)


@pytest.mark.parametrize("name", ["laid-eye", "laid-short"])
@pytest.mark.parametrize("size_in", [0.5, 2.0])
def test_tapered_tails_take_two_more_tucks_and_six_diameters(name: str, size_in: float) -> None:
    """29 CFR 1910.184(h)(3)(iii): two more tucks, about 6 d of tail, every size; TM 5-684: half cut out for each."""
    made = plan_of(method(name), diameter_m=size_in * INCH, tapered=True)
    assert made.tucks is not None
    assert made.tucks.tapered >= 2
    assert made.tucks.tail_m == pytest.approx(6 * size_in * INCH)
    assert [step.fraction_left for step in made.taper] == [0.5, 0.25]
    assert made.taper[0].at_m == pytest.approx(max(mark.at_m for mark in made.marks))


def test_a_long_splice_has_its_breaks_nine_inches_apart() -> None:
    """TM 5-684 / NAVFAC MO-200, 15-24 c: 10 or 12 turns, 7 in of strand left, breaks about 9 in apart."""
    made = plan_of(method("laid-long"), diameter_m=0.75 * INCH)
    assert at(made, "2") - at(made, "1") == pytest.approx(9 * INCH)
    named = {length.name: length.length_m for length in made.lengths}
    assert named["left"] == pytest.approx(7 * INCH)
    assert 10 <= named["unlay"] / named["lay"] <= 12


def test_a_long_splice_in_thin_rope_is_stopped() -> None:
    """12 turns of a 3 d lay reach 36 d; 9 + 7 in need 0.444 in rope or thicker."""
    assert "unlay-too-short" in codes(plan_of(method("laid-long"), diameter_m=0.44 * INCH), "stop")
    assert "unlay-too-short" not in codes(plan_of(method("laid-long"), diameter_m=0.45 * INCH))


def test_a_back_splice_starts_from_a_crown_knot() -> None:
    """NAVEDTRA 14251 ch. 4."""
    assert "Crown knot" in " ".join(plan_of(method("laid-back")).steps)


# COMDTINST M16114.5C Table 7-6; any knot NAVEDTRA 14251, ISO 9554:2010 C.2.5.
KEPT = {
    "bowline": 0.63,
    "two-bowlines": 0.57,
    "becket-bend": 0.59,
    "round-turn": 0.65,
    "clove-hitch": 0.60,
    "square-knot": 0.54,
    "any-knot": 0.50,
}


def test_knots_keep_what_the_table_says() -> None:
    assert {one.id: one.kept for one in all_knots()} == KEPT
    assert all("COMDTINST" in one.source or one.id == "any-knot" for one in all_knots())
    assert "ISO 9554" in knot("any-knot").source


@pytest.mark.parametrize("name", ["whip-common", "whip-sailmaker", "whip-stitched"])
def test_a_whipping_is_one_to_one_and_a_half_diameters_long(name: str) -> None:
    """Seamanship texts, weak: about 1 d to 1.5 d long, the end 2 d beyond."""
    made = plan_of(method(name), diameter_m=0.012)
    assert 0.012 <= at(made, "2") - at(made, "1") <= 0.018 + 1e-12
    assert at(made, "1") == pytest.approx(0.024)
    assert next(count.count for count in made.counts if count.name == "whip_turns") == 18  # 18 mm of 1 mm twine


def test_finishes_fit_where_no_splice_does() -> None:
    made = plan_of(method("whip-common"), construction="kernmantle")
    assert not made.stopped
    assert made.strength.wll_n is None


@pytest.mark.parametrize("name", ["laid-eye", "laid-short"])
def test_tails_are_never_cut_flush(name: str) -> None:
    """29 CFR 1910.184(h)(3)(iii): never trimmed flush at the last full tuck."""
    made = plan_of(method(name))
    assert "never cut flush" in made.finish
    assert made.tucks is not None
    assert made.tucks.tail_m > 0
    assert "1910.184" in made.tucks.tail_source


@pytest.mark.parametrize("name", ["laid-short", "laid-back"])
def test_a_doubled_rope_will_not_run_through_a_block(name: str) -> None:
    """TM 5-684 / NAVFAC MO-200, 15-24 b: diameter nearly doubled, will not run through a block."""
    thick = [check for check in plan_of(method(name)).checks if check.code.startswith("thick")]
    assert len(thick) == 1
    assert "block" in thick[0].message


def test_a_long_splice_runs_through_a_block_where_a_short_one_does_not() -> None:
    """TM 5-684 / NAVFAC MO-200, 15-24 b and c."""
    assert not any(check.code.startswith("thick") for check in plan_of(method("laid-long"), diameter_m=0.02).checks)


@pytest.mark.parametrize("name", ["whip-common", "whip-sailmaker", "whip-stitched"])
def test_before_a_cut_two_whippings_are_made(name: str) -> None:
    """FM 5-125 ch. 2: 1 to 2 in (25 to 50 mm) apart, cut between."""
    (told,) = [check for check in plan_of(method(name)).checks if check.code == "before-a-cut"]
    assert "25 to 50 mm" in told.message
    assert "FM 5-125" in told.source


@pytest.mark.parametrize("name", ["laid-eye", "laid-short", "laid-long", "laid-back"])
def test_a_hockle_is_warned_of(name: str) -> None:
    """ISO 9554:2010 C.2.6: a hockle in laid rope loses up to 0.30 for good."""
    (told,) = [check for check in plan_of(method(name), diameter_m=0.02).checks if check.code == "hockle"]
    assert "30 %" in told.message
    assert "ISO 9554" in told.source


def test_a_knot_in_the_line_is_its_weakest_part_and_is_told() -> None:
    """COMDTINST M16114.5C Table 7-6: bowline 0.63 against an eye splice's 0.90.

    29 CFR 1926.251(d)(2), 1910.184(h)(3): no knots in place of splices in slings.
    """
    made = plan_of(method("laid-eye"), mbs_n=24_000.0, knots=("bowline",))
    assert made.strength.weakest == "bowline"
    assert made.strength.wll_n == pytest.approx(24_000 * 0.63 / 10)
    (told,) = [check for check in made.checks if check.code == "knot-in-line"]
    assert (told.level, "1926.251" in told.source) == ("warn", True)
    assert "knot-in-line" not in codes(plan_of(method("laid-eye")))
