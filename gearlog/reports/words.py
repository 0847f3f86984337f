"""Numbers and sources in the words of a plain report, on the tape that the reader owns."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from gearlog.domain.plan import PlanInputs
from gearlog.domain.vocabulary import Unit
from gearlog.units import convert, showing

UNKNOWN = "unknown"
LEVEL_WORDS = {"stop": "STOP", "warn": "WARNING", "note": "NOTE"}
"""The levels of checks, the gravest first, said so that they need no colour."""
COMMON_PRACTICE = "common practice, unconfirmed"
MICROMETRES = 3  # decimals of mm in an exact distance: finer than any tape
TENTH_KN = 100  # N: what is shown of a force in kN
A_HAIR = Fraction(1, 10**9)  # of a load: 5,000 lbf over 10 lies a float's last bit below 500 lbf
NOTHING_MM = Fraction(1, 2)  # less than this is shown as no difference
LONGER = ("longer", "shorter")
"""Words for more and for less of a length."""


@dataclass(frozen=True, slots=True)
class Tape:
    """How the reader measures.

    Attributes:
        imperial: inches and pounds-force instead of mm and kN.
        parts: parts of an inch on the tape.
    """

    imperial: bool = False
    parts: int = 16

    @classmethod
    def of(cls, inputs: PlanInputs) -> Tape:
        """The tape that a plan was made for."""
        return cls(inputs.unit is Unit.IMPERIAL, inputs.tape_parts)

    def length(self, metres: float | None) -> str:
        """A length, or ``unknown``."""
        return UNKNOWN if metres is None else showing.length(metres, imperial=self.imperial, parts=self.parts)

    def exact(self, metres: float, on_tape: float | None = None) -> str:
        """A length as on the tape, and its millimetres to the micrometre where the tape shows it rounded."""
        shown = self.length(metres if on_tape is None else on_tape)
        millimetres = f"{exact_mm(metres)} mm"
        return shown if shown == millimetres else f"{shown} ({millimetres})"

    def diameter(self, metres: float | None) -> str:
        """A diameter, or ``unknown``."""
        return UNKNOWN if metres is None else showing.diameter(metres, imperial=self.imperial)

    def force(self, newtons: float | None) -> str:
        """A force, or ``unknown``."""
        return UNKNOWN if newtons is None else showing.force(newtons, imperial=self.imperial)

    def capacity(self, newtons: float | None) -> str:
        """A load that may be carried, rounded down so that no more is promised, or ``unknown``."""
        if newtons is None:
            return UNKNOWN
        step = convert.to_si(Fraction(1), "lbf") if self.imperial else Fraction(TENTH_KN)
        return self.force(float(Fraction(newtons) * (1 + A_HAIR) // step * step))

    def longer(self, metres: float, ways: tuple[str, str] = LONGER) -> str:
        """A difference in words: ``4 mm shorter``, ``1/8 in longer`` or ``no longer or shorter``."""
        if abs(Fraction(metres)) * 1000 < NOTHING_MM:
            return f"no {' or '.join(ways)}"
        return f"{self.length(abs(metres))} {ways[0] if metres > 0 else ways[1]}"


def exact_mm(metres: float) -> str:
    """Millimetres to the micrometre, without idle zeros."""
    text = f"{showing.rounded(Fraction(metres) * 1000, MICROMETRES):f}"
    return text.rstrip("0").rstrip(".")


def sourced(source: str, *, common: bool) -> str:
    """A source, and that it is unconfirmed where it is common practice."""
    if not common or COMMON_PRACTICE in source:
        return source or UNKNOWN
    return f"{source}; {COMMON_PRACTICE}" if source else COMMON_PRACTICE


def percent(fraction: float) -> str:
    """A share in per cent to a tenth, without an idle zero."""
    return f"{fraction * 100:.1f}".removesuffix(".0") + " %"


def plural(count: int, word: str) -> str:
    """``1 pull``, ``2 pulls``."""
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
