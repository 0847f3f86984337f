"""Every unit against its exact definition and against pint's own default registry."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pint
import pytest

from gearlog.units import convert
from gearlog.units.measure import Length
from gearlog.units.reading import UNITS

POUND_KG = Fraction("0.45359237")  # international pound, NIST Special Publication 811, appendix B
DEFINED = {
    "mm": Fraction(1, 1000),
    "cm": Fraction(1, 100),
    "m": Fraction(1),
    "in": Fraction("0.0254"),  # 1 in = 25.4 mm exactly, SP 811
    "ft": Fraction("0.3048"),  # SP 811
    "yd": Fraction("0.9144"),  # SP 811
    "N": Fraction(1),
    "daN": Fraction(10),
    "kN": Fraction(1000),
    "lbf": Fraction("4.4482216152605"),  # SP 811
    "kgf": Fraction("9.80665"),  # standard gravity, 3rd CGPM 1901
    "g/m": Fraction(1, 1000),
    "kg/m": Fraction(1),
    "lb/ft": POUND_KG / Fraction("0.3048"),
    "lb/100ft": POUND_KG / Fraction("30.48"),
}
PINT_SAYS = {
    "mm": "mm", "cm": "cm", "m": "m", "in": "inch", "ft": "foot", "yd": "yard", "N": "newton",
    "daN": "decanewton", "kN": "kilonewton", "lbf": "force_pound", "kgf": "kilogram_force",
    "g/m": "gram/meter", "kg/m": "kilogram/meter", "lb/ft": "pound/foot", "lb/100ft": "pound/foot",
}  # fmt: skip
SI = {"length": "meter", "force": "newton", "mass per length": "kilogram/meter"}


@pytest.fixture(scope="module")
def theirs() -> pint.UnitRegistry[Any]:
    return pint.UnitRegistry()


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_every_unit_is_exactly_its_definition(unit: str) -> None:
    assert convert.to_si(Fraction(1), unit) == DEFINED[unit]
    assert convert.from_si(DEFINED[unit], unit) == 1


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_every_unit_agrees_with_pints_own_registry(unit: str, theirs: pint.UnitRegistry[Any]) -> None:
    amount = 0.01 if unit == "lb/100ft" else 1.0
    reference = theirs.Quantity(amount, PINT_SAYS[unit]).to(SI[UNITS[unit][0]]).magnitude
    assert float(convert.factor(unit)) == pytest.approx(reference, rel=1e-14)


def test_the_pound_force_is_a_pound_times_standard_gravity() -> None:
    assert convert.factor("lbf") == POUND_KG * convert.factor("kgf")


@pytest.mark.parametrize(
    ("typed", "metres"),
    [
        ("1/2 in", "0.0127"),  # trade practice: 1/2 in is 12.7 mm
        ("10.5 in", "0.2667"),  # fid length 21 d of a 1/2 in rope
        ("6 in", "0.1524"),  # 29 CFR 1910.184(h)(3)(iii): tail of 6 in, 152.4 mm
        ("100 ft", "30.48"),
    ],
)
def test_imperial_lengths_are_exact_in_metres(typed: str, metres: str) -> None:
    assert Length.read(typed).exact == Fraction(metres)


def test_warming_loads_every_unit_off_the_main_thread() -> None:
    convert.factor.cache_clear()
    convert.warm().join(timeout=30)
    assert convert.factor.cache_info().currsize == len(UNITS)
