"""What the checks of a plan look at, and how a check is made."""

from __future__ import annotations

from dataclasses import dataclass

from gearlog.domain.plan import Check, EyeGeometry, FillPoint, Level, Pull, TaperStep
from gearlog.splicing.worked import Worked

FROM_THE_METHOD = "worked out from the method's marks"
ROUNDING = 1e-9  # relative; a limit that is met exactly is met


@dataclass(frozen=True, slots=True)
class Draft:
    """A plan before it is judged."""

    worked: Worked
    eye: EyeGeometry | None
    taper: tuple[TaperStep, ...]
    pulls: tuple[Pull, ...]
    fill: tuple[FillPoint, ...]


def found(level: Level, code: str, message: str, source: str) -> Check:
    """A finding."""
    return Check(level=level, code=code, message=message, source=source)
