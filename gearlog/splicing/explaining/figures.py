"""Numbers as they stand in a worked formula: in the user's unit, fine enough to be worked out again."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from gearlog.domain.plan_inputs import PlanInputs
from gearlog.domain.vocabulary import Unit
from gearlog.splicing.tape import INCH_M, MILLIMETRE_M, division_m
from gearlog.units import convert, showing

DIGITS = 9  # of a measure; what most people typed is shown in full, and the rest to a billionth
PLAIN_DIGITS = 12  # of plain numbers: ratios near one are taken from one another
KILO = 1000


@dataclass(frozen=True, slots=True)
class Figures:
    """How the reader measures: decimal inches and pounds-force, or mm and kN."""

    imperial: bool
    division: Fraction

    @classmethod
    def of(cls, inputs: PlanInputs) -> Figures:
        """Those of a plan's inputs."""
        return cls(inputs.unit is Unit.IMPERIAL, division_m(inputs))

    def length(self, metres: float | Fraction) -> str:
        """``533.4 mm`` or ``21 in``."""
        unit, name = (INCH_M, "in") if self.imperial else (MILLIMETRE_M, "mm")
        return f"{decimal(Fraction(metres) / unit, DIGITS)} {name}"

    def force(self, newtons: float | Fraction) -> str:
        """``24 kN`` or ``5400 lbf``."""
        if self.imperial:
            return f"{decimal(convert.from_si(newtons, 'lbf'), DIGITS)} lbf"
        return f"{decimal(Fraction(newtons) / KILO, DIGITS)} kN"

    @property
    def step(self) -> str:
        """One division of the tape."""
        return self.length(self.division)


def plain(number: float | Fraction) -> str:
    """A plain number: ``0.9``, ``4``, ``0.931377521985``."""
    return decimal(Fraction(number), PLAIN_DIGITS)


def decimal(number: Fraction, digits: int) -> str:
    """``number`` to ``digits`` digits from its first one, never as a power of ten, without idle zeros."""
    before = len(str(int(abs(number)))) if abs(number) >= 1 else 0
    text = f"{showing.rounded(number, max(digits - before, 0)):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
