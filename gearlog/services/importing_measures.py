"""Quantities as people write them in lists: put into the strict grammar where they can mean one thing only."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from gearlog.errors import ReadingError
from gearlog.units.quoting import quoted
from gearlog.units.reading import FORCE, LENGTH, read

KINDS = {"diameter": LENGTH, "length_bought": LENGTH, "breaking_strength": FORCE, "safe_working_load": FORCE,
         "gate_open_strength": FORCE, "minor_axis_strength": FORCE}  # fmt: skip
"""Fields that hold quantities and their kinds."""
_UNITS: dict[str, dict[str, str]] = {
    LENGTH: {
        "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm", "cm": "cm",
        "m": "m", "mtr": "m", "mtrs": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
        "in": "in", "inch": "in", "inches": "in", '"': "in", "ft": "ft", "foot": "ft", "feet": "ft", "'": "ft",
        "yd": "yd", "yard": "yd", "yards": "yd",
    },
    FORCE: {
        "n": "N", "dan": "daN", "kn": "kN", "kgf": "kgf", "kg": "kgf", "kgs": "kgf", "lbf": "lbf", "lb": "lbf",
        "lbs": "lbf", "pounds": "lbf", "pound": "lbf",
    },
}  # fmt: skip
"""Unit as written in small letters -> ours. A strength in kilograms or pounds can only be meant as a force."""
_SIGNS = str.maketrans({"\u2033": '"', "\u201d": '"', "\u201c": '"', "\u2032": "'", "\u2019": "'", "\u00a0": " ",
                        "\u202f": " ", "\u2009": " ", "\u2044": "/", "\u2013": "-"})  # fmt: skip
_FRACTIONS = {"\u00bc": "1/4", "\u00bd": "1/2", "\u00be": "3/4", "\u215b": "1/8", "\u215c": "3/8", "\u215d": "5/8",
              "\u215e": "7/8"}  # fmt: skip
_LEAD = re.compile(r"^(?:\u00f8|\u00d8|\u2300|dia\.?|diam\.?)\s*", re.IGNORECASE)
_QUANTITY = re.compile(r"(\d[\d.,]*(?:[ -]\d+/\d+)?(?:/\d+)?)\s*(.*)", re.ASCII | re.DOTALL)
_THOUSANDS = re.compile(r"\d{1,3}([.,])\d{3}", re.ASCII)
_PROOFS = {"comma": re.compile(r"(?<![\d.,])\d+,\d{1,2}(?!\d)", re.ASCII),
           "point": re.compile(r"(?<![\d.,])\d+\.\d{1,2}(?![\d.])", re.ASCII)}  # fmt: skip


REMEMBERED = 4096  # readings of texts; a list repeats a few hundred


class UnitAskedError(ReadingError):
    """A number without a unit."""


class DecimalAskedError(ReadingError):
    """A number whose sign can stand before decimals or before thousands."""


def decimal_of(texts: Iterable[str]) -> str:
    """The decimal sign that the numbers of a list prove: ``comma``, ``point``, or empty for none or both."""
    proved = {sign for text in texts for sign, proof in _PROOFS.items() if proof.search(text)}
    return proved.pop() if len(proved) == 1 else ""


@lru_cache(REMEMBERED)
def read_measure(text: str, field: str, unit: str, decimal: str) -> tuple[str, str]:
    """A quantity in our grammar, and what to say where it was written otherwise.

    ``unit`` is that of a bare number, ``decimal`` the decimal sign, both empty where not known. Raises UnitAskedError,
    DecimalAskedError, ReadingError.
    """
    kind = KINDS[field]
    typed = _clean(text)
    if _is_ours(typed, kind):
        return typed, ""
    found = _QUANTITY.fullmatch(_LEAD.sub("", typed))
    if found is None:
        raise ReadingError(f"{quoted(text)} is not a {kind}")
    number, written = found[1], found[2].strip().rstrip(".").casefold()
    if not written and not unit:
        raise UnitAskedError(f"{quoted(text)} has no unit")
    ours = _UNITS[kind].get(written or unit.casefold())
    if ours is None:
        raise ReadingError(f"{quoted(text)} has a unit that is not one of a {kind}")
    made = f"{_plain_number(number, decimal, text)} {ours}"
    read(made, kind)
    return made, f"{quoted(text)} read as {made}" if made.replace(" ", "") != typed.replace(" ", "") else ""


def _clean(text: str) -> str:
    typed = text.translate(_SIGNS).strip()
    for sign, fraction in _FRACTIONS.items():
        typed = re.sub(rf"(\d)\s*{sign}", rf"\1 {fraction}", typed).replace(sign, fraction)
    return " ".join(typed.split())


def _is_ours(typed: str, kind: str) -> bool:
    """Whether the strict grammar takes it as it stands; a number whose point may part thousands is looked at again."""
    if _THOUSANDS.match(typed):
        return False
    try:
        read(typed, kind)
    except ReadingError:
        return False
    return True


def _plain_number(number: str, decimal: str, text: str) -> str:
    """The number with a point before its decimals and nothing between its thousands."""
    signs = {sign for sign in ".," if sign in number}
    if not signs:
        return number
    if signs == {".", ","}:
        last = max(number.rfind("."), number.rfind(","))
        whole = number[:last].replace(".", "").replace(",", "")
        return f"{whole}.{number[last + 1 :]}"
    (sign,) = signs
    if number.count(sign) > 1:
        return number.replace(sign, "")
    is_decimal = {"comma": sign == ",", "point": sign == "."}.get(decimal)
    if is_decimal is None:
        if _THOUSANDS.fullmatch(number) and not number.startswith("0"):
            raise DecimalAskedError(
                f"{quoted(text)} can mean {number.replace(sign, '.')} or {number.replace(sign, '')}"
            )
        is_decimal = True
    return number.replace(sign, ".") if is_decimal else number.replace(sign, "")
