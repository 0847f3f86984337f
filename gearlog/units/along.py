"""Places and lengths along a whole rope: always metres, or feet and inches, so that they can be compared and summed."""

from __future__ import annotations

from fractions import Fraction

from gearlog.units import showing

MILLIMETRES = 3  # decimals of a metre


def place(metres: float | Fraction, *, imperial: bool) -> str:
    """A distance along a rope: ``3.2 m``, ``0.115 m``, ``10 ft 6 in``."""
    if imperial:
        return showing.length(metres, imperial=True)
    text = f"{showing.rounded(metres, MILLIMETRES):f}"
    return f"{text.rstrip('0').rstrip('.')} m"


def summand(metres: float | Fraction, *, imperial: bool) -> str:
    """The same with all its decimals, to stand in a sum: ``45.000 m``."""
    return showing.length(metres, imperial=True) if imperial else f"{showing.rounded(metres, MILLIMETRES):f} m"
