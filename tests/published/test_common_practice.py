"""Part C of the trade reference: from memory, no source. The numbers are as agreed, and each carries the label."""

from __future__ import annotations

import pytest

from gearlog.domain.mass import PACKING
from gearlog.domain.plan import Plan
from gearlog.domain.plan_inputs import Hardware
from gearlog.domain.vocabulary import Lay
from gearlog.splicing.method import COMMON_PRACTICE_LABEL
from tests.splicing.ropes import INCH, at, codes, method
from tests.splicing.test_lengths import plan_of


def length_of(made: Plan, name: str) -> float:
    length = next(length for length in made.lengths if length.name == name)
    assert length.common_practice
    assert COMMON_PRACTICE_LABEL in length.source
    return length.length_m


@pytest.mark.parametrize("name", ["double-eye", "double-cord", "double-end-to-end"])
def test_the_short_section_of_a_fid_is_about_036_of_it(name: str) -> None:
    """1/2 in: fid 10.5 in, short section 3.78 in."""
    made = plan_of(method(name), diameter_m=0.5 * INCH, finished_m=6.0)
    assert length_of(made, "short") == pytest.approx(0.36 * 10.5 * INCH)


@pytest.mark.parametrize(("fibre", "bury_in_d"), [("polyester", 42), ("polyamide", 42), ("hmpe", 72)])
@pytest.mark.parametrize("name", ["hollow-eye", "hollow-locked-eye", "hollow-end-to-end", "hollow-loop"])
def test_a_hollow_braid_buries_two_fids_or_72_diameters_and_tapers_over_a_third_to_a_half(
    name: str, fibre: str, bury_in_d: int
) -> None:
    made = plan_of(method(name), diameter_m=0.010, fibre=fibre, finished_m=6.0)
    bury = length_of(made, "bury")
    assert bury == pytest.approx(bury_in_d * 0.010)
    assert bury / 3 - 1e-9 <= length_of(made, "taper") <= bury / 2 + 1e-9


@pytest.mark.parametrize(("core", "bury_in_d"), [("polyester", 42), ("polyamide", 42), ("hmpe", 72), ("", 72)])
def test_a_core_that_carries_is_buried_by_its_own_fibre_never_by_that_of_the_cover(core: str, bury_in_d: int) -> None:
    made = plan_of(method("core-eye"), diameter_m=0.010, fibre="polyester", core_fibre=core)
    assert length_of(made, "bury") == pytest.approx(bury_in_d * 0.010)
    assert ("core-fibre-unknown" in codes(made, "warn")) is not bool(core)
    assert "maker-sheet-only" in codes(made, "warn")


def test_only_a_rope_whose_core_carries_all_has_its_eye_made_in_the_core_alone() -> None:
    """Half of a double braid's strength is in its cover (NAVEDTRA 14067 ch. 3): an eye in its core alone loses that."""
    made = plan_of(method("core-eye"), construction="double-braid", fibre="polyester", core_fibre="polyester")
    assert "construction-unfit" in codes(made, "stop")


def test_the_pass_throughs_of_a_locked_eye_lie_at_marks_one_and_two() -> None:
    made, plain = (plan_of(method(name)) for name in ("hollow-locked-eye", "hollow-eye"))
    assert (at(made, "1"), at(made, "2")) == (at(plain, "1"), at(plain, "2"))
    assert any("through" in mark.do for mark in made.marks if mark.id in {"1", "2"})


def test_a_cover_loaded_eye_buries_about_two_fids_and_tapers_over_the_last() -> None:
    made = plan_of(method("cover-eye"), diameter_m=0.0115)
    assert length_of(made, "bury") == pytest.approx(2 * 21 * 0.0115)
    assert length_of(made, "taper") == pytest.approx(21 * 0.0115)
    assert any("core" in step for step in made.steps)
    assert "whip" in made.finish


def test_a_double_braid_eye_is_marked_from_one_fid() -> None:
    """Reference one fid from the end; loop to the extraction mark; core marks a short section, then fid + short on."""
    made = plan_of(method("double-eye"), diameter_m=0.012)
    fid, short, loop = 0.252, 0.36 * 0.252, 0.300
    assert at(made, "r") == pytest.approx(fid)
    assert at(made, "x") == pytest.approx(fid + loop)
    assert at(made, "c2") - at(made, "x") == pytest.approx(short)
    assert at(made, "c3") - at(made, "c2") == pytest.approx(fid + short)


@pytest.mark.parametrize("name", ["hollow-eye", "cover-eye", "laid-eye", "double-eye"])
def test_an_eye_is_three_pins_long_at_least(name: str) -> None:
    assert "eye-small-for-pin" in codes(plan_of(method(name), eye_m=0.1499, pin_m=0.050), "warn")
    assert "eye-small-for-pin" not in codes(plan_of(method(name), eye_m=0.150, pin_m=0.050))


def test_ten_for_people_and_five_for_hardware_rated_by_its_maker() -> None:
    ring = (Hardware(name="ring", strength_n=10_000.0),)
    made = plan_of(method("laid-eye"), mbs_n=24_000.0, hardware=ring)
    factors = {link.name: link.design_factor for link in made.strength.chain}
    assert factors["rope"] == made.strength.design_factor == 10
    assert factors["ring"] == 5
    assert made.strength.design_factor_source == COMMON_PRACTICE_LABEL
    assert made.strength.wll_n == pytest.approx(min(24_000 * 0.9 / 10, 10_000 / 5))
    assert made.strength.weakest == "ring"


def test_a_tight_twelve_strand_braid_has_no_commonly_published_splice() -> None:
    made = plan_of(method("hollow-eye"), lay=Lay.TIGHT, strands=12)
    assert codes(made, "stop") == {"no-published-splice"}
    assert "sewn" in made.checks[0].message


def test_a_real_rope_fills_about_seven_tenths_of_its_circle() -> None:
    assert PACKING == 0.7


@pytest.mark.parametrize("name", ["double-eye", "double-cord", "double-end-to-end"])
def test_a_slip_knot_lies_beyond_every_mark_also_of_a_long_eye(name: str) -> None:
    """Five fid lengths beyond the extraction mark; counted from the end it would lie inside a long eye."""
    made = plan_of(method(name), eye_m=1.0, finished_m=12.0)
    knot = next(step for step in made.steps if "slip knot" in step)
    letter = next(mark.letter for mark in made.marks if mark.id == "x")
    assert f"(1260 mm) beyond mark {letter}" in knot.replace("each mark", "mark")
    furthest = max(at(made, mark) for mark in ("r", "x", "c2", "c3"))
    assert at(made, "x") + 5 * 0.252 > furthest


@pytest.mark.parametrize("name", ["double-eye", "double-cord", "double-end-to-end"])
def test_a_cut_length_that_leaves_something_out_says_so(name: str) -> None:
    assert "sum-leaves-out" in codes(plan_of(method(name), finished_m=6.0), "warn")


def test_what_is_not_asked_or_left_out_is_not_warned_of() -> None:
    assert "sum-leaves-out" not in codes(plan_of(method("double-eye")))
    assert "sum-leaves-out" not in codes(plan_of(method("hollow-eye"), finished_m=6.0))
