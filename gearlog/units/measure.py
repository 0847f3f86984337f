"""A quantity as the user typed it, with its exact number and unit."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import ClassVar, Self

from gearlog.units import convert, reading


@dataclass(frozen=True, slots=True)
class Measure:
    """A quantity kept exactly as typed; equal when the text is equal.

    Attributes:
        text: as typed, only trimmed at both ends, for example ``1-1/2 in``.
        amount: the number in front of ``unit``, exact.
        unit: the canonical unit symbol, for example ``in`` or ``lb/100ft``.
    """

    text: str
    amount: Fraction = field(compare=False, repr=False)
    unit: str = field(compare=False, repr=False)

    kind: ClassVar[str] = ""

    @classmethod
    def read(cls, text: str, *, zero: bool = False) -> Self:
        """Read ``text`` by the strict grammar; raises ReadingError with an example.

        ``zero`` allows zero, for a place along a rope: zero is its end.
        """
        amount, unit = reading.read(text, cls.kind, zero=zero)
        return cls(text.strip(), amount, unit)

    @property
    def exact(self) -> Fraction:
        """The value in SI, exact (m, N, kg/m)."""
        return convert.to_si(self.amount, self.unit)

    @property
    def si(self) -> float:
        """The value in SI as the nearest float (m, N, kg/m)."""
        return float(self.exact)

    def __str__(self) -> str:
        return self.text


class Length(Measure):
    """A length; SI in metres."""

    __slots__ = ()
    kind = "length"


class Force(Measure):
    """A force, as in a breaking strength; SI in newtons."""

    __slots__ = ()
    kind = "force"


class LinearMass(Measure):
    """A mass per length of rope; SI in kilograms per metre."""

    __slots__ = ()
    kind = "mass per length"
