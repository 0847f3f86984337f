"""An exact length as it would be typed in metres."""

from __future__ import annotations

from fractions import Fraction

from gearlog.units.measure import Length

DECIMALS = 9  # of a metre; what no decimal states, as a third of a metre, is rounded to the nanometre


def exact_metres(length: Fraction) -> Length:
    """The length (m, not below zero) as a quantity, exact where nine decimals state it."""
    scaled = round(length * 10**DECIMALS)
    whole, part = divmod(scaled, 10**DECIMALS)
    decimals = f"{part:0{DECIMALS}d}".rstrip("0")
    return Length.read(f"{whole}.{decimals} m" if decimals else f"{whole} m", zero=True)
