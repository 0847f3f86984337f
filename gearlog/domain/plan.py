"""The plan: a method worked out for one rope, eye and set of tools. A record of plain SI numbers.

Distances run along the rope from the working end, s = 0 at the very end, rope relaxed and straight.
"""

from __future__ import annotations

from typing import Literal

import msgspec

from gearlog.domain.plan_inputs import Hardware, PlanInputs, RopeSpec, Tool
from gearlog.domain.plan_load import ChainLink, EyeGeometry, Strength

__all__ = [
    "ChainLink", "Check", "Count", "EyeGeometry", "FillPoint", "Finished", "GuideStep", "Hardware", "Level",
    "Mark", "NamedLength", "Plan", "PlanInputs", "Pull", "RopeSpec", "Shortening", "Span", "Strength", "TaperStep",
    "Tolerance", "Tool", "Tucks",
]  # fmt: skip

Level = Literal["stop", "warn", "note"]


class NamedLength(msgspec.Struct, frozen=True, kw_only=True):
    """A named length of the method with its formula, the formula with values put in, and its source.

    ``tape_m`` is the length rounded up to the user's tape.
    """

    name: str
    title: str
    length_m: float
    formula: str
    worked: str
    source: str
    common_practice: bool = False
    tape_m: float | None = None


class Mark(msgspec.Struct, frozen=True, kw_only=True):
    """A mark on the rope: where, on which part, and what to do there.

    ``at_m`` is exact; ``tape_m`` lies on a division of the user's tape, worked out from lengths rounded up.
    """

    id: str
    letter: str
    part: str
    name: str
    at_m: float
    do: str
    formula: str
    worked: str
    source: str
    common_practice: bool = False
    tape_m: float | None = None

    @property
    def shown_m(self) -> float:
        """What people read off: the place on the tape."""
        return self.at_m if self.tape_m is None else self.tape_m


class Tolerance(msgspec.Struct, frozen=True, kw_only=True):
    """How far a measure may be off (m), and what it means now when it is off further."""

    within_m: float
    if_short: str
    if_long: str
    source: str


class GuideStep(msgspec.Struct, frozen=True, kw_only=True):
    """One step for the bench: its words, and the ids of the marks that it touches."""

    text: str
    marks: tuple[str, ...] = ()


class Span(msgspec.Struct, frozen=True, kw_only=True):
    """A stretch of the rope that the drawing shows: tail, eye, bury, taper, tucks, core."""

    kind: str
    part: str
    from_m: float
    to_m: float


class Pull(msgspec.Struct, frozen=True, kw_only=True):
    """One pull of a tool: where it goes in, where it comes out, how far, with what.

    ``tool`` is empty when no tool at hand was named.
    """

    part: str
    from_m: float
    to_m: float
    length_m: float
    tool: str
    stage: int
    tape_from_m: float | None = None
    tape_to_m: float | None = None

    @property
    def shown_from_m(self) -> float:
        """Where it goes in, as the user's tape shows it."""
        return self.from_m if self.tape_from_m is None else self.tape_from_m

    @property
    def shown_to_m(self) -> float:
        """Where it comes out, as the user's tape shows it."""
        return self.to_m if self.tape_to_m is None else self.tape_to_m

    @property
    def shown_length_m(self) -> float:
        """How far, as the user's tape shows it."""
        return abs(self.shown_to_m - self.shown_from_m)


class TaperStep(msgspec.Struct, frozen=True, kw_only=True):
    """Strands leave here, one of each lay; what is left after it.

    ``picks`` counts the whole picks from where the taper begins; None where the pick length is not known.
    """

    part: str
    at_m: float
    strands_left: int
    fraction_left: float
    tape_m: float | None = None
    picks: int | None = None

    @property
    def shown_m(self) -> float:
        """What people read off: the place on the tape."""
        return self.at_m if self.tape_m is None else self.tape_m


class Tucks(msgspec.Struct, frozen=True, kw_only=True):
    """Tucks of a laid rope: full tucks in all, strand to unlay, tail beyond the last tuck.

    ``sides`` is 2 where two ropes are joined, half of the tucks on each; ``tapered`` are the further, thinned ones.
    """

    count: int
    unlay_m: float
    tail_m: float
    tuck_m: float
    source: str
    tail_source: str
    unlay_source: str
    sides: int = 1
    tapered: int = 0
    tapered_source: str = ""


class Count(msgspec.Struct, frozen=True, kw_only=True):
    """A number of turns, passes or the like, rounded up."""

    name: str
    title: str
    count: int
    formula: str
    source: str


class FillPoint(msgspec.Struct, frozen=True, kw_only=True):
    """What lies inside the standing part at ``at_m`` from the working end: 1 is a whole tail or a whole core."""

    at_m: float
    fraction: float


class Shortening(msgspec.Struct, frozen=True, kw_only=True):
    """How much the standing part shortens over what is buried in it (m, over all buries of the splice).

    ``ratio`` is length after over length before, where a whole tail lies inside. ``learned_m`` is what was learned and
    taken, a part of ``length_m``.
    """

    length_m: float
    ratio: float
    braid_angle_deg: float
    swelling: float
    source: str
    learned_m: float = 0.0


class Finished(msgspec.Struct, frozen=True, kw_only=True):
    """The finished length and the cut length that gives it; ``wanted`` tells which of the two was asked for.

    ``cut_m`` is exact; ``tape_cut_m`` is worked out from lengths rounded up to the user's tape, as the marks are.
    """

    what: str
    finished_m: float
    cut_m: float
    formula: str
    worked: str
    source: str
    wanted: bool
    tape_cut_m: float | None = None

    @property
    def shown_cut_m(self) -> float:
        """What people cut at: the place on the tape."""
        return self.cut_m if self.tape_cut_m is None else self.tape_cut_m


class Check(msgspec.Struct, frozen=True, kw_only=True):
    """A stop, a warning or a note, with its reason and source."""

    level: Level
    code: str
    message: str
    source: str


class Plan(msgspec.Struct, frozen=True, kw_only=True):
    """A method worked out. A plan that does not fit its rope has no marks, only the checks that say why.

    Attributes:
        own: whether the method is the user's own.
        rope_used_m: from the working end to the throat, or None where nothing was worked out; ``rope_used_tape_m``
            the same on the user's tape.
        cautions: the usual cautions, always shown with the plan.
        origin: where the distances begin: an end of the rope, or the throat.
    """

    method: str
    method_title: str
    method_version: int
    own: bool
    inputs: PlanInputs
    rope_used_m: float | None
    rope_used_tape_m: float | None = None
    lengths: tuple[NamedLength, ...] = ()
    marks: tuple[Mark, ...] = ()
    spans: tuple[Span, ...] = ()
    pulls: tuple[Pull, ...] = ()
    taper: tuple[TaperStep, ...] = ()
    tucks: Tucks | None = None
    eye: EyeGeometry | None = None
    strength: Strength
    checks: tuple[Check, ...] = ()
    steps: tuple[str, ...] = ()
    finish: str = ""
    cautions: tuple[str, ...] = ()
    shape: str = "eye"
    counts: tuple[Count, ...] = ()
    fill: tuple[FillPoint, ...] = ()
    shortening: Shortening | None = None
    finished: Finished | None = None
    cut_length_m: float | None = None
    tools: tuple[str, ...] = ()
    guide: tuple[GuideStep, ...] = ()
    mark_tolerance: Tolerance | None = None
    eye_tolerance: Tolerance | None = None
    origin: str = "working end"

    @property
    def shown_used_m(self) -> float | None:
        """The rope used as the user's tape shows it."""
        return self.rope_used_m if self.rope_used_tape_m is None else self.rope_used_tape_m

    @property
    def stopped(self) -> bool:
        """Whether a check forbids this splice."""
        return any(check.level == "stop" for check in self.checks)
