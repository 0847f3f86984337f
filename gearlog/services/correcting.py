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

BY_HAND = "typed by hand"
MOST = 0.5  # of the eye; an eye that is off by half of itself is not corrected, it is another eye
PARTS = 64  # of an inch; finer than the tape, so that rounding adds no bias of its own


class Corrected(msgspec.Struct, frozen=True):
    """What is corrected.

    Attributes:
        field: its field in the planner's form.
        name: its name.
        ways: the words for more and for less of it.
        way_out: how it is typed.
    """

    field: str
    name: str
    ways: tuple[str, str]
    way_out: str


EYE = Corrected("eye_correction", "eye", LONGER, "type a length and longer or shorter, such as 4 mm longer")
SHORTENING = Corrected(
    "shortening_correction", "shortening", ("more", "less"), "type a length and more or less, such as 12 mm more"
)


class Correction(msgspec.Struct, frozen=True):
    """What is added to the marked eye or to the shortening (m), and where it comes from."""

    length_m: float = 0.0
    words: str = ""


def read_correction(typed: str, eye_m: float | None, faults: list[Fault]) -> Correction:
    """The correction of an eye of ``eye_m``; what does not read is added to ``faults``."""
    return _read(typed, EYE, faults, most_m=None if eye_m is None else MOST * eye_m)


def read_shortening(typed: str, faults: list[Fault]) -> Correction:
    """How much more the rope shortens than reckoned; what does not read is added to ``faults``."""
    return _read(typed, SHORTENING, faults)


def _read(typed: str, of: Corrected, faults: list[Fault], *, most_m: float | None = None) -> Correction:
    """A length, which way, and where it comes from; an eye's is at most half of the eye."""
    if not typed:
        return Correction()
    match = re.fullmatch(rf"(.+?) +({'|'.join(of.ways)})(?: *; *(.*))?", typed, re.DOTALL)
    if match is None:
        faults.append(Fault(of.field, f"{quoted(typed)} is not a correction", of.way_out))
        return Correction()
    try:
        length = Length.read(match[1], zero=True).si
    except ReadingError as error:
        faults.append(fault_of(of.field, error))
        return Correction()
    if most_m is not None and length > most_m:
        faults.append(Fault(of.field, f"{match[1]} is more than half of the eye", "measure again, or plan another eye"))
    signed = length if match[2] == of.ways[0] else -length
    return Correction(signed, (match[3] or BY_HAND) if length else "")


def correction_text(length_m: float, words: str, *, imperial: bool, of: Corrected = EYE) -> str:
    """A correction as it would be typed, to 0.1 mm or 1/64 in."""
    if imperial:
        size = showing.length(abs(length_m), imperial=True, parts=PARTS)
    else:
        size = f"{showing.rounded(abs(Fraction(length_m)) * 1000, 1):f}".removesuffix(".0") + " mm"
    return f"{size} {of.ways[0] if length_m > 0 else of.ways[1]}; {words}"
