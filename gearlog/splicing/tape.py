"""Rounding to the user's tape: whole millimetres, or parts of an inch, in the safe direction.

Named lengths (bury, taper, tail, unlay), the fid and the cut length are rounded up, so that none is ever shorter than
its rule asks; the eye goes to the nearest mark. Marks are worked out again from the rounded lengths, so that they still
add up on the tape.
"""

from __future__ import annotations

import math
from fractions import Fraction

from gearlog.domain.plan import PlanInputs
from gearlog.domain.vocabulary import Unit

MILLIMETRE_M = Fraction(1, 1000)
INCH_M = Fraction(254, 10_000)  # exact, international inch


def division_m(inputs: PlanInputs) -> Fraction:
    """The smallest division of the user's tape, in m."""
    return INCH_M / inputs.tape_parts if inputs.unit == Unit.IMPERIAL else MILLIMETRE_M


def rounded_up(length_m: Fraction, division: Fraction) -> Fraction:
    """The next mark of the tape at or above ``length_m``."""
    return math.ceil(length_m / division) * division


def nearest(length_m: Fraction, division: Fraction) -> Fraction:
    """The nearest mark of the tape; a half goes up."""
    return math.floor(length_m / division + Fraction(1, 2)) * division
