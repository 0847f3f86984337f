"""Corrections as they are typed: ``4.2 mm longer`` of an eye, ``12 mm more`` of the shortening.

After a semicolon stands where it comes from.
"""

from __future__ import annotations

import re
from fractions import Fraction

import msgspec

from gearlog.errors import Fault, ReadingError
from gearlog.reports.words import LONGER
from gearlog.services.reading_forms import fault_of
from gearlog.units import showing
from gearlog.units.measure import Length
from gearlog.units.quoting import quoted

FIELD = "eye_correction"
BY_HAND = "typed by hand"
MOST = 0.5  # of the eye; an eye that is off by half of itself is not corrected, it is another eye
PARTS = 64  # of an inch; finer than the tape, so that rounding adds no bias of its own
WAY_OUT = "type a length and longer or shorter, such as 4 mm longer"
_TYPED = re.compile(r"(.+?) +(longer|shorter)(?: *; *(.*))?", re.DOTALL)


SHORTENING_FIELD = "shortening_correction"
SHORTENING_WAY_OUT = "type a length and more or less, such as 12 mm more"
_TYPED_SHORTENING = re.compile(r"(.+?) +(more|less)(?: *; *(.*))?", re.DOTALL)


class Corrected(msgspec.Struct, frozen=True):
    """What is corrected: its field in the planner's form, its name, and the words for more and for less of it."""

    field: str
    name: str
    ways: tuple[str, str]


EYE = Corrected(FIELD, "eye", LONGER)
SHORTENING = Corrected(SHORTENING_FIELD, "shortening", ("more", "less"))


class Correction(msgspec.Struct, frozen=True):
    """What is added to the marked eye or to the shortening (m), and where it comes from."""

    length_m: float = 0.0
    words: str = ""


def read_correction(typed: str, eye_m: float | None, faults: list[Fault]) -> Correction:
    """The correction of an eye of ``eye_m``; what does not read is added to ``faults``."""
    if not typed:
        return Correction()
    match = _TYPED.fullmatch(typed)
    if match is None:
        faults.append(Fault(FIELD, f"{quoted(typed)} is not a correction", WAY_OUT))
        return Correction()
    try:
        length = Length.read(match[1], zero=True).si
    except ReadingError as error:
        faults.append(fault_of(FIELD, error))
        return Correction()
    if eye_m is not None and length > MOST * eye_m:
        faults.append(Fault(FIELD, f"{match[1]} is more than half of the eye", "measure again, or plan another eye"))
    signed = length if match[2] == "longer" else -length
    return Correction(signed, (match[3] or BY_HAND) if length else "")


def read_shortening(typed: str, faults: list[Fault]) -> Correction:
    """How much more the rope shortens than reckoned; what does not read is added to ``faults``."""
    match = _TYPED_SHORTENING.fullmatch(typed)
    if not typed or match is None:
        if typed:
            faults.append(Fault(SHORTENING_FIELD, f"{quoted(typed)} is not a correction", SHORTENING_WAY_OUT))
        return Correction()
    try:
        length = Length.read(match[1], zero=True).si
    except ReadingError as error:
        faults.append(fault_of(SHORTENING_FIELD, error))
        return Correction()
    return Correction(length if match[2] == "more" else -length, (match[3] or BY_HAND) if length else "")


def correction_text(length_m: float, words: str, *, imperial: bool, of: Corrected = EYE) -> str:
    """A correction as it would be typed, to 0.1 mm or 1/64 in."""
    if imperial:
        size = showing.length(abs(length_m), imperial=True, parts=PARTS)
    else:
        size = f"{showing.rounded(abs(Fraction(length_m)) * 1000, 1):f}".removesuffix(".0") + " mm"
    return f"{size} {of.ways[0] if length_m > 0 else of.ways[1]}; {words}"
