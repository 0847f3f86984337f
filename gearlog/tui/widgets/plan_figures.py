"""The numbers of a plan in words, on the tape that the plan was made for."""

from __future__ import annotations

from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import Unit
from gearlog.units import showing

UNKNOWN = "unknown"


class Figures:
    """Writes the plan's numbers on the tape that the plan was made for."""

    def __init__(self, plan: Plan) -> None:
        self.imperial = plan.inputs.unit is Unit.IMPERIAL
        self.parts = plan.inputs.tape_parts
        self._marks = {mark.at_m: mark.shown_m for mark in plan.marks}

    def length(self, metres: float | None) -> str:
        """A length on the rope, or 'unknown'."""
        return UNKNOWN if metres is None else showing.length(metres, imperial=self.imperial, parts=self.parts)

    def place(self, metres: float | None) -> str:
        """A place on the rope; where a mark lies it reads as the mark does."""
        return UNKNOWN if metres is None else self.length(self._marks.get(metres, metres))

    def force(self, newtons: float | None) -> str:
        """A force, or 'unknown'."""
        return UNKNOWN if newtons is None else showing.force(newtons, imperial=self.imperial)
