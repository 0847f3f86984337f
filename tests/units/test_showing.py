from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.units import showing
from gearlog.units.measure import Force, Length, LinearMass

INCH = 0.0254  # m, exact by definition


@pytest.mark.parametrize(
    ("metres", "metric", "sixteenths", "thirty_seconds"),
    [
        (0.504, "504 mm", "19 13/16 in", "19 27/32 in"),
        (0.804, "804 mm", "31 5/8 in", "31 21/32 in"),
        (0.0, "0 mm", "0 in", "0 in"),
        (0.0127, "13 mm", "1/2 in", "1/2 in"),
        (0.1125, "113 mm", "4 7/16 in", "4 7/16 in"),
        (0.0005, "1 mm", "0 in", "1/32 in"),
        (0.3048, "305 mm", "12 in", "12 in"),
        (31.5 / 32 * INCH, "25 mm", "1 in", "1 in"),
        (-0.0125, "-13 mm", "-1/2 in", "-1/2 in"),
        (-0.0001, "0 mm", "0 in", "0 in"),
        (9.9994, "9999 mm", "393 11/16 in", "393 11/16 in"),
        (9.9997, "10000 mm", "393 11/16 in", "393 11/16 in"),
        (10.0, "10 m", "32 ft 9 11/16 in", "32 ft 9 11/16 in"),
        (-10.0, "-10 m", "-32 ft 9 11/16 in", "-32 ft 9 11/16 in"),
        (10.3081, "10.308 m", "33 ft 9 13/16 in", "33 ft 9 27/32 in"),
        (45.72, "45.72 m", "150 ft", "150 ft"),
    ],
)
def test_a_mark_is_told_as_the_tape_tells_it(metres: float, metric: str, sixteenths: str, thirty_seconds: str) -> None:
    assert showing.length(metres) == metric
    assert showing.length(metres, imperial=True) == sixteenths
    assert showing.length(metres, imperial=True, parts=32) == thirty_seconds


@pytest.mark.parametrize(
    ("shown", "expected"),
    [
        (showing.rope_length(2.5), "2.5 m"),
        (showing.rope_length(30.48, imperial=True), "100 ft"),
        (showing.diameter(0.0127), "12.7 mm"),
        (showing.diameter(0.012), "12 mm"),
        (showing.diameter(0.0111125, imperial=True), "7/16 in"),
        (showing.diameter(0.012, imperial=True), "15/32 in"),
        (showing.diameter(0.012, imperial=True, parts=16), "1/2 in"),
        (showing.force(24_000), "24.0 kN"),
        (showing.force(24_000, imperial=True), "5,395 lbf"),
        (showing.force(2_350), "2.4 kN"),
        (showing.force(1e12), "1000000000.0 kN"),
        (showing.linear_mass(0.068), "68 g/m"),
        (showing.linear_mass(Fraction(1, 8)), "125 g/m"),
        (showing.linear_mass(LinearMass.read("7.5 lb/100ft").si, imperial=True), "7.5 lb/100ft"),
        (showing.linear_mass(1e-9), "0 g/m"),
    ],
)
def test_ropes_diameters_forces_and_masses_are_told_as_labels_tell_them(shown: str, expected: str) -> None:
    assert shown == expected


@pytest.mark.parametrize(
    ("number", "places", "expected"),
    [(0.5, 0, "1"), (-0.5, 0, "-1"), (1.005, 2, "1.01"), (2.5, 0, "3"), (112.49999999999999, 0, "113"),
     (112.4999, 0, "112"), (Fraction(1, 3), 3, "0.333"), (12, 1, "12.0")],
)  # fmt: skip
def test_halves_go_away_from_zero_even_where_a_float_lies_a_hair_beside(
    number: float, places: int, expected: str
) -> None:
    assert str(showing.rounded(number, places)) == expected


@given(st.integers(1, 320_000), st.sampled_from([16, 32]))
def test_a_tape_fraction_that_is_shown_reads_back_as_itself(steps: int, parts: int) -> None:
    inches = Fraction(steps, parts)
    shown = showing.diameter(float(inches * Fraction("0.0254")), imperial=True, parts=parts)
    assert Length.read(shown).exact == inches * Fraction("0.0254")


@given(st.floats(0.0006, 9.99))
def test_a_shown_mark_is_never_further_off_than_half_of_its_last_place(metres: float) -> None:
    assert abs(Length.read(showing.length(metres)).si - metres) <= 0.0005 + 1e-9
    shown = showing.length(metres, imperial=True, parts=32)
    assert abs(Length.read(shown, zero=True).si - metres) <= INCH / 64 + 1e-9


@given(st.floats(10, 400))
def test_a_long_mark_is_shown_as_finely_as_a_short_one(metres: float) -> None:
    """Marks of a long sling lie beyond 10 m and are cut by."""
    assert abs(Length.read(showing.length(metres)).si - metres) <= 0.0005 + 1e-9
    assert abs(Length.read(showing.length(metres, imperial=True, parts=32)).si - metres) <= INCH / 64 + 1e-9


@given(st.integers(1, 99_999))
def test_a_force_to_a_tenth_of_a_kilonewton_reads_back_as_itself(tenths: int) -> None:
    shown = showing.force(tenths * 100.0)
    assert Force.read(shown).exact == tenths * 100


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_no_number_is_ever_shown_with_an_exponent(number: float) -> None:
    for show in (showing.length, showing.rope_length, showing.diameter, showing.force, showing.linear_mass):
        for imperial in (False, True):
            assert "e" not in show(number, imperial=imperial).lower()
