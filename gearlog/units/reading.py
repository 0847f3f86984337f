r"""The strict grammar of quantities: text is read in the one way it can mean, or refused with an example.

A quantity is a number and a unit: ``13mm``, ``12.7 mm``, ``7/16"``, ``1 1/2 in``, ``1-1/2 in``, ``45 m``,
``24 kN``, ``7.5 lb/100ft``; or feet and inches together: ``5 ft 6 in``, ``5' 6-1/2"``. Units are
case-sensitive. Only plain digits are read; there is no sign, no exponent, no comma, no arithmetic. A fraction
is below one: ``11/2 in`` is more often ``1 1/2 in`` without its space than five and a half. Zero is refused
unless the caller allows it, as it does for a place on a rope, where zero is the end itself.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from typing import NoReturn

from gearlog.errors import ReadingError
from gearlog.units.quoting import quoted

TEXT_LENGTH = 40  # characters; the longest sensible quantity has about 20
INCHES_PER_FOOT = 12


LENGTH, FORCE, MASS = "length", "force", "mass per length"
EXAMPLES = {
    LENGTH: "12.7 mm, 45 m, 1/2 in or 5 ft 6 in",
    FORCE: "24 kN, 5400 lbf or 2400 kgf",
    MASS: "68 g/m or 7.5 lb/100ft",
}
"""Kind -> examples for a message."""

UNITS = {
    "mm": (LENGTH, 100_000_000),  # 100 km
    "cm": (LENGTH, 10_000_000),
    "m": (LENGTH, 100_000),
    "in": (LENGTH, 4_000_000),  # just over 100 km
    "ft": (LENGTH, 330_000),
    "yd": (LENGTH, 110_000),
    "N": (FORCE, 10_000_000),  # 10 MN
    "daN": (FORCE, 1_000_000),
    "kN": (FORCE, 10_000),
    "lbf": (FORCE, 2_300_000),
    "kgf": (FORCE, 1_100_000),
    "g/m": (MASS, 100_000),  # 100 kg/m
    "kg/m": (MASS, 100),
    "lb/ft": (MASS, 70),
    "lb/100ft": (MASS, 7_000),
}
"""Canonical unit -> its kind and the most of it that can be meant; above that a digit slipped."""

FINEST = 10_000  # parts of a unit; less than one of them, such as 0.1 micrometre or 0.1 N, is below all use

SPELLINGS = {unit: unit for unit in UNITS} | {'"': "in", "'": "ft", "lb/100 ft": "lb/100ft"}
"""Unit as typed -> canonical unit; case-sensitive."""

_NUMBER = r"(?:(\d+)(?: |-))?(\d+)/(\d+)|(\d+(?:\.\d+)?)"  # mixed or plain fraction | whole or decimal
_QUANTITY = re.compile(rf"(?:{_NUMBER}) *(\S.*)?", re.ASCII)
_FEET_INCHES = re.compile(rf"(\d+) *(?:ft|') *(?:{_NUMBER}) *(?:in|\")", re.ASCII)
_DECIMAL = re.compile(r"\d+(?:\.\d+)?", re.ASCII)
_WHOLE = re.compile(r"\d+", re.ASCII)


def read(text: str, kind: str, *, zero: bool = False) -> tuple[Fraction, str]:
    """Read a quantity of ``kind``: its exact number and canonical unit.

    ``kind`` is ``length``, ``force`` or ``mass per length``; ``zero`` says whether zero makes sense.
    Raises ReadingError with one line and an example.
    """
    typed = text.strip(" ")
    if len(typed) > TEXT_LENGTH:
        _refuse(typed, "is too long", kind)
    amount, unit = _read(typed, kind)
    if not amount and not zero:
        _refuse(typed, "is zero", kind)
    return amount, unit


def _read(typed: str, kind: str) -> tuple[Fraction, str]:
    both = _FEET_INCHES.fullmatch(typed) if "'" in typed or "ft" in typed else None
    amount, unit = _feet_inches(both, typed, kind) if both else _single(typed, kind)
    return _judged(amount, unit, typed, kind)


def _single(typed: str, kind: str) -> tuple[Fraction, str]:
    match = _QUANTITY.fullmatch(typed) if typed.isascii() and typed.isprintable() else None
    if match is None:
        _refuse(typed, _why_not(typed), kind)
    *number, spelling = match.groups()
    if spelling is None:
        _refuse(typed, "has no unit", kind)
    if spelling not in SPELLINGS:
        _refuse(typed, _why_no_unit(spelling, kind), kind)
    return _number(number, typed, kind), SPELLINGS[spelling]


def _feet_inches(match: re.Match[str], typed: str, kind: str) -> tuple[Fraction, str]:
    feet, *number = match.groups()
    inches = _number(number, typed, kind)
    if inches >= INCHES_PER_FOOT:
        _refuse(typed, "has 12 inches or more beside the feet", kind)
    return int(feet) * INCHES_PER_FOOT + inches, "in"


def _number(groups: list[str | None], typed: str, kind: str) -> Fraction:
    whole, top, bottom, plain = groups
    if plain is not None:
        before, _, after = plain.partition(".")
        return Fraction(int(before + after), 10 ** len(after))  # three times as fast as Fraction(plain)
    numerator, denominator = int(top or 0), int(bottom or 0)
    if denominator == 0:
        _refuse(typed, "divides by zero", kind)
    if numerator >= denominator:
        _refuse(typed, "has a fraction that is not below one; write it as in 1 1/2", kind)
    return int(whole or 0) + Fraction(numerator, denominator)


def _judged(amount: Fraction, unit: str, typed: str, kind: str) -> tuple[Fraction, str]:
    its_kind, most = UNITS[unit]
    if its_kind != kind:
        _refuse(typed, f"is a {its_kind}, not a {kind}", kind)
    top, bottom = amount.numerator, amount.denominator  # whole numbers compare faster than fractions
    if top > most * bottom:
        _refuse(typed, "is far too much to be right", kind)
    if 0 < top * FINEST < bottom:
        _refuse(typed, "is far too little to be right", kind)
    return amount, unit


def _why_not(typed: str) -> str:
    if not typed:
        return "is empty"
    if not typed.isascii() or not typed.isprintable():
        return "holds a sign that is not on a plain keyboard"
    if typed[0] == "-":
        return "is negative"
    if re.match(r"\.\d", typed):
        return "has no digit before the point; write 0.5, not .5"
    return "is not a number and a unit"


def _why_no_unit(spelling: str, kind: str) -> str:
    if spelling[0] == ",":
        return "has a comma; write the decimal point as in 1.5"
    if spelling == "lb":
        return "has the unit 'lb', which may be a force or a mass; write lbf or lb/100ft"
    for unit, (its_kind, _) in UNITS.items():
        if its_kind == kind and unit.casefold() == spelling.casefold():
            return f"has the unit {quoted(spelling, 12)}; write {unit}, large and small letters count"
    return f"has no unit that is known in {quoted(spelling, 12)}"


def _refuse(typed: str, why: str, kind: str) -> NoReturn:
    raise ReadingError(f"{quoted(typed)} {why}; type a {kind} such as {EXAMPLES[kind]}")


def read_whole(text: str, *, least: int, most: int, what: str) -> int:
    """Read a whole number from ``least`` to ``most``; ``what`` names it in the error. Raises ReadingError."""
    typed = text.strip(" ")
    way_out = f"type {what} as a whole number from {least} to {most}, such as {max(least, 1)}"
    if len(typed) > TEXT_LENGTH or not _WHOLE.fullmatch(typed):
        raise ReadingError(f"{quoted(typed)} is not a whole number; {way_out}")
    number = int(typed)
    if not least <= number <= most:
        raise ReadingError(f"{quoted(typed)} is too {'small' if number < least else 'large'}; {way_out}")
    return number


def read_number(text: str, *, least: Decimal | int, most: Decimal | int, what: str) -> Decimal:
    """Read a decimal from ``least`` to ``most``; ``what`` names it in the error. Raises ReadingError."""
    typed = text.strip(" ")
    way_out = f"type {what} as a number from {least} to {most}, with a point as in 7.5"
    if len(typed) > TEXT_LENGTH or not _DECIMAL.fullmatch(typed):
        raise ReadingError(f"{quoted(typed)} is not a plain number; {way_out}")
    number = Decimal(typed)
    if not least <= number <= most:
        raise ReadingError(f"{quoted(typed)} is too {'small' if number < least else 'large'}; {way_out}")
    return number
