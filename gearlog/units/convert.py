"""Conversion to and from SI: the only place that uses pint, which is loaded on first use."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path
from threading import Lock, Thread
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pint

DEFINITIONS = Path(__file__).with_name("definitions.txt")
"""The short list of units; pint's own is far longer and slower to load."""

PINT_NAMES = {
    "mm": ("millimeter", "meter"),
    "cm": ("centimeter", "meter"),
    "m": ("meter", "meter"),
    "in": ("inch", "meter"),
    "ft": ("foot", "meter"),
    "yd": ("yard", "meter"),
    "N": ("newton", "newton"),
    "daN": ("decanewton", "newton"),
    "kN": ("kilonewton", "newton"),
    "lbf": ("pound_force", "newton"),
    "kgf": ("kilogram_force", "newton"),
    "g/m": ("gram_per_meter", "kilogram_per_meter"),
    "kg/m": ("kilogram_per_meter", "kilogram_per_meter"),
    "lb/ft": ("pound_per_foot", "kilogram_per_meter"),
    "lb/100ft": ("pound_per_hundred_feet", "kilogram_per_meter"),
}
"""Unit symbol -> its name in the definitions, and the SI unit of its kind."""

_loading = Lock()


def to_si(amount: Fraction, unit: str) -> Fraction:
    """``amount`` of ``unit`` in SI (m, N, kg/m), exact; KeyError for an unknown unit."""
    return amount * factor(unit)


def from_si(value: float | Fraction, unit: str) -> Fraction:
    """An SI value in ``unit``, exact for the value given; KeyError for an unknown unit."""
    (top, bottom), one = value.as_integer_ratio(), factor(unit)
    return Fraction(top * one.denominator, bottom * one.numerator)


@cache
def factor(unit: str) -> Fraction:
    """What one ``unit`` is in SI, exact; KeyError for an unknown unit."""
    name, si_name = PINT_NAMES[unit]
    with _loading:
        one = _registry().Quantity(Fraction(1), name)
        return Fraction(one.to(si_name).magnitude)


def warm() -> Thread:
    """Load pint in a thread of its own, so that the first conversion need not wait; returns the thread."""
    thread = Thread(target=lambda: [factor(unit) for unit in PINT_NAMES], name="units", daemon=True)
    thread.start()
    return thread


@cache
def _registry() -> pint.UnitRegistry[Any]:
    import pint

    return pint.UnitRegistry(str(DEFINITIONS), non_int_type=Fraction)
