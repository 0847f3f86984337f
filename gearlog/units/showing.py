"""Quantities as people read them on a tape, a spool or a label; halves are rounded away from zero.

Never in scientific notation. What is shown is rounded; what is computed with is not.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from gearlog.units import convert

TAPE_PARTS = 16  # parts of an inch on most tapes; 32 on a fine one
LONG_FROM_M = 10  # from here on a length is told in m, or in ft and in
INCHES_PER_FOOT = 12
_HAIR = 10**9  # parts of the last shown place


def length(metres: float | Fraction, *, imperial: bool = False, parts: int = TAPE_PARTS) -> str:
    """A mark on a tape: whole mm, ``504 mm``, or inches and 1/``parts``, ``19 13/16 in``.

    From 10 m up ``10.308 m`` and ``33 ft 9 13/16 in``: as fine, because people cut by it.
    """
    long = not -LONG_FROM_M < metres < LONG_FROM_M
    if imperial:
        inches = convert.from_si(metres, "in")
        return _feet(inches, parts) if long else f"{_tape(inches, parts)} in"
    millimetres = rounded(convert.from_si(metres, "mm"))
    return f"{_plain(millimetres.scaleb(-3))} m" if long else f"{millimetres} mm"


def rope_length(metres: float | Fraction, *, imperial: bool = False) -> str:
    """A length of rope to 0.1 m or 0.1 ft, ``45 m``, ``12.5 m``, ``150 ft``."""
    unit = "ft" if imperial else "m"
    return f"{_short(convert.from_si(metres, unit), 1)} {unit}"


def diameter(metres: float | Fraction, *, imperial: bool = False, parts: int = 32) -> str:
    """A rope's or pin's diameter to 0.1 mm or 1/``parts`` in, ``12.7 mm``, ``1/2 in``."""
    if imperial:
        return f"{_tape(convert.from_si(metres, 'in'), parts)} in"
    return f"{_short(convert.from_si(metres, 'mm'), 1)} mm"


def force(newtons: float | Fraction, *, imperial: bool = False) -> str:
    """A force to 0.1 kN or 1 lbf, ``24.0 kN``, ``5,395 lbf``."""
    if imperial:
        return f"{int(rounded(convert.from_si(newtons, 'lbf'))):,} lbf"
    return f"{rounded(convert.from_si(newtons, 'kN'), 1)} kN"


def linear_mass(kg_per_m: float | Fraction, *, imperial: bool = False) -> str:
    """A mass per length to 0.1 g/m or 0.1 lb per 100 ft, ``68 g/m``, ``7.5 lb/100ft``."""
    unit = "lb/100ft" if imperial else "g/m"
    return f"{_short(convert.from_si(kg_per_m, unit), 1)} {unit}"


def mass(kilograms: float | Fraction, *, imperial: bool = False) -> str:
    """A mass to 0.01 kg or 0.1 lb, ``4.08 kg``, ``9.0 lb``."""
    if imperial:
        pound = convert.factor("lb/ft") * convert.factor("ft")
        return f"{rounded(Fraction(kilograms) / pound, 1)} lb"
    return f"{rounded(kilograms, 2)} kg"


def rounded(number: float | Fraction, places: int = 0) -> Decimal:
    """``number`` to ``places`` decimals, halves away from zero.

    What lies within a billionth of a half counts as the half: a float cannot hold most of them, and 112.5 mm
    must not be shown as 112 mm because its float is a hair below. ValueError or OverflowError for nan, inf.
    """
    top, bottom = number.as_integer_ratio()  # whole numbers are several times as fast as fractions
    in_hairs = (2 * abs(top) * 10**places * _HAIR + bottom) // (2 * bottom)
    whole = (2 * in_hairs + _HAIR) // (2 * _HAIR)
    return Decimal((int(top < 0 < whole), tuple(map(int, str(whole))), -places))  # exact at any size


def _short(number: Fraction, places: int) -> str:
    """Rounded, without zeros after the point."""
    text = f"{rounded(number, places):f}"
    return text.removesuffix("." + "0" * places)


def _plain(number: Decimal) -> str:
    """Without idle zeros."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _feet(inches: Fraction, parts: int) -> str:
    """Feet, and what is left in inches and 1/``parts``."""
    steps = int(rounded(inches * parts))
    feet, rest = divmod(abs(steps), INCHES_PER_FOOT * parts)
    sign = "-" if steps < 0 else ""
    return f"{sign}{feet} ft" + (f" {_tape(Fraction(rest, parts), parts)} in" if rest else "")


def _tape(inches: Fraction, parts: int) -> str:
    """Whole inches and a reduced fraction of 1/``parts``."""
    steps = int(rounded(inches * parts))
    whole, rest = divmod(abs(steps), parts)
    fraction = f"{Fraction(rest, parts)}" if rest else ""
    sign = "-" if steps < 0 else ""
    return sign + (f"{whole} {fraction}".strip() if whole or not fraction else fraction)
