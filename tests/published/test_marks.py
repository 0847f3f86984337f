"""Marks of the braided eyes by the definitions of trade.md part A and the common practice of its part C."""

from __future__ import annotations

import pytest

from tests.splicing.ropes import INCH, at, codes, plan


def test_the_hollow_eye_of_the_reference() -> None:
    """12 mm polyester, eye 150 mm: bury 42 d = 504 mm, loop 300 mm; marks at B, B + C, 2 B + C."""
    made = plan("hollow-eye", pin_m=0.050)
    assert at(made, "1") == 0.504
    assert at(made, "2") == pytest.approx(0.804, rel=1e-15)
    assert at(made, "3") == pytest.approx(1.308, rel=1e-15)
    assert made.rope_used_m == pytest.approx(0.804, rel=1e-15)
    assert made.eye is not None
    assert made.eye.half_angle_deg == pytest.approx(13.407, abs=5e-4)
    assert made.eye.leg_tension_ratio == pytest.approx(0.51401, abs=5e-6)


# Common practice, no source: fid length 21 d; bury 2 fid for polyester and polyamide, 72 d for HMPE.
@pytest.mark.parametrize(
    ("fibre", "size_m", "bury_m"),
    [("polyester", 0.012, 0.504), ("polyamide", 0.5 * INCH, 21 * INCH), ("hmpe", 0.010, 0.720)],
)
def test_bury_by_fibre(fibre: str, size_m: float, bury_m: float) -> None:
    made = plan("hollow-eye", fibre=fibre, diameter_m=size_m)
    assert at(made, "1") == pytest.approx(bury_m, rel=1e-12)
    assert at(made, "3") - at(made, "2") == pytest.approx(bury_m, rel=1e-12)
    assert "common-practice" in codes(made, "note")


def test_an_unknown_or_unusual_fibre_takes_the_longest_bury_and_says_so() -> None:
    for fibre in ("", "polypropylene", "aramid"):
        made = plan("hollow-eye", fibre=fibre, diameter_m=0.010)
        assert at(made, "1") == pytest.approx(0.720)
        assert "fibre-without-practice" in codes(made, "warn")


def test_the_cover_loaded_eye_of_the_reference() -> None:
    """12.7 mm, eye 115 mm: bury 42 d = 533.4 mm, taper over the last fid 266.7 mm, loop 230 mm."""
    made = plan("cover-eye", diameter_m=0.0127, eye_m=0.115)
    wanted = {"taper": 0.2667, "1": 0.5334, "2": 0.7634, "crossover": 1.0301, "3": 1.2968}
    assert {mark.id: mark.at_m for mark in made.marks} == pytest.approx(wanted)
    assert [mark.letter for mark in made.marks] == ["a", "b", "c", "d", "e"]


def test_tail_and_core_tapers_lie_over_each_other() -> None:
    """trade.md part A: the core's taper lies over [2B + C - T, 2B + C], so that the two sections add up to one."""
    made = plan("cover-eye", diameter_m=0.0127, eye_m=0.115)
    core = next(span for span in made.spans if span.kind == "core-taper")
    tail = next(span for span in made.spans if span.kind == "taper")
    bury = next(span for span in made.spans if span.kind == "bury")
    assert core.to_m == bury.to_m
    assert core.to_m - core.from_m == pytest.approx(tail.to_m - tail.from_m)
    assert made.rope_used_m == pytest.approx(bury.from_m)


def test_taper_steps_by_the_definition() -> None:
    """M pairs over T, the i-th at i T / (m + 1) from the taper's beginning; 1 - 2 i / n is left."""
    made = plan("cover-eye", diameter_m=0.0127, strands=16)
    assert [step.strands_left for step in made.taper] == [14, 12, 10, 8, 6, 4]
    for i, step in enumerate(made.taper, 1):
        assert step.at_m == pytest.approx(0.2667 - i * 0.2667 / 7)
        assert step.fraction_left == pytest.approx(1 - 2 * i / 16)


def test_taper_steps_fall_on_whole_picks() -> None:
    made = plan("cover-eye", diameter_m=0.0127, strands=16, pick_length_m=0.010)
    # 38.1, 76.2, 114.3, 152.4, 190.5, 228.6 mm from the beginning, to whole picks of 10 mm
    assert [round(0.2667 - step.at_m, 6) for step in made.taper] == [0.04, 0.08, 0.11, 0.15, 0.19, 0.23]
    assert [step.picks for step in made.taper] == [4, 8, 11, 15, 19, 23]
    assert {step.picks for step in plan("cover-eye", strands=16).taper} == {None}


@pytest.mark.parametrize("size_in", [7 / 16, 0.5, 5 / 8])
def test_a_fid_is_twenty_one_diameters(size_in: float) -> None:
    """Common practice, no source: 1/2 in gives 10.5 in."""
    made = plan("cover-eye", diameter_m=size_in * INCH)
    assert next(one.length_m for one in made.lengths if one.name == "taper") == pytest.approx(21 * size_in * INCH)


def test_no_published_splice_is_a_stop_without_any_mark() -> None:
    for made in (plan("hollow-eye", lay="tight"), plan("cover-eye", construction="kernmantle")):
        assert codes(made, "stop") == {"no-published-splice"}
        assert not made.marks
        assert made.rope_used_m is None
        assert any("sewn" in check.message for check in made.checks)
