"""A quantity as the user typed it, with its exact number and unit."""

from __future__ import annotations

from fractions import Fraction
from typing import ClassVar, Self

from gearlog.units import convert, reading


class Measure:
    """A quantity kept exactly as typed; never changed; equal when kind and text are equal.

    A plain class, because msgspec would store a dataclass field by field and not as the text.
    """

    __slots__ = ("_amount", "_text", "_unit")
    kind: ClassVar[str] = ""

    def __init__(self, text: str, amount: Fraction, unit: str) -> None:
        self._text = text
        self._amount = amount
        self._unit = unit

    @classmethod
    def read(cls, text: str, *, zero: bool = False) -> Self:
        """Read ``text`` by the strict grammar; raises ReadingError with an example.

        ``zero`` allows zero, for a place along a rope: zero is its end.
        """
        amount, unit = reading.read(text, cls.kind, zero=zero)
        return cls(text.strip(), amount, unit)

    @property
    def text(self) -> str:
        """As typed, only trimmed at both ends, for example ``1-1/2 in``."""
        return self._text

    @property
    def amount(self) -> Fraction:
        """The number in front of ``unit``, exact."""
        return self._amount

    @property
    def unit(self) -> str:
        """The canonical unit symbol, for example ``in`` or ``lb/100ft``."""
        return self._unit

    @property
    def exact(self) -> Fraction:
        """The value in SI, exact (m, N, kg/m)."""
        return convert.to_si(self._amount, self._unit)

    @property
    def si(self) -> float:
        """The value in SI as the nearest float (m, N, kg/m)."""
        return float(self.exact)

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and other._text == self._text

    def __hash__(self) -> int:
        return hash((self.kind, self._text))

    def __str__(self) -> str:
        return self._text

    def __repr__(self) -> str:
        return f"{type(self).__name__}.read({self._text!r})"


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
