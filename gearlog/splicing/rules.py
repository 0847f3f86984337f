"""The entries of a method file: marks, lengths, tapers, tucks, limits. ``method`` puts them together.

Formulas (see ``formula``) may use ``d`` rope diameter, ``fid`` 21 d, ``n`` strands or carriers, ``mm``, ``inch``; where
they are asked for, ``eye`` inside length, ``loop`` the loop's circumference, ``shortest``, ``longest``, ``finished``;
``tucks`` full tucks on a side, ``tapered_tucks`` the further ones, ``shortening`` over the buries, ``cut`` the length
to cut; and every length named earlier.
"""

from __future__ import annotations

from typing import Literal

import msgspec

from gearlog.domain.plan import Level

SpanKind = Literal["tail", "taper", "eye", "bury", "core-taper", "unlay", "tucks", "standing", "whip"]
Shape = Literal["eye", "cord", "join", "loop", "sling", "end", "finish"]
Origin = Literal["working end", "first end", "free end", "throat"]
Asked = Literal["eye", "finished", "shortest", "longest"]
Part = Literal["rope", "cover", "core", "strand"]
Measurable = Literal["", "lay", "pick", "twine"]


class Entry(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A table of a method file: a misspelt key is a fault, not a silence."""


class When(Entry, frozen=True, kw_only=True):
    """Where an entry applies; an empty list means everywhere, and every list that is given must hold.

    Attributes:
        fibres: ids of fibres, of the strands or the cover; ``""`` stands for a fibre that is not known.
        core_fibres: the same of the core, for a method that works in it.
        conditions: conditions of the rope.
        least_diameter: from this diameter on, for example ``"1 in"``.
        below_diameter: below this diameter.
        styles: ``plain`` or ``tapered`` finish of laid rope.
    """

    fibres: tuple[str, ...] = ()
    core_fibres: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    least_diameter: str = ""
    below_diameter: str = ""
    styles: tuple[str, ...] = ()


class Fits(Entry, frozen=True, kw_only=True):
    """The ropes a method is meant for."""

    constructions: tuple[str, ...]
    lays: tuple[str, ...] = ()
    strands: tuple[int, ...] = ()
    source: str


class NeededTool(Entry, frozen=True, kw_only=True):
    """A tool the method asks for."""

    name: str
    what_for: str = ""


class LengthRule(Entry, frozen=True, kw_only=True):
    """A named length. Of several with one name the first that applies is taken.

    Attributes:
        measured: ``lay``, ``pick`` or ``twine`` when the user's own measure replaces the formula.
    """

    name: str
    title: str
    formula: str
    source: str
    when: When = When()
    measured: Measurable = ""


class MarkRule(Entry, frozen=True, kw_only=True):
    """A mark: where it lies on which part, and what to do there."""

    id: str
    name: str
    part: Part
    at: str
    do: str
    source: str


class SpanRule(Entry, frozen=True, kw_only=True):
    """A stretch for the drawing."""

    kind: SpanKind
    part: Part
    start: str
    end: str


class TaperRule(Entry, frozen=True, kw_only=True):
    """A taper by pairs, from ``begins`` towards ``ends``.

    Attributes:
        strands_left: formula of the carriers left at the end; rounded up to whole pairs.
        most_fraction: the largest part of the cross-section that may leave in one step.
    """

    part: Part
    begins: str
    ends: str
    strands_left: str
    most_fraction: float
    source: str


class PullRule(Entry, frozen=True, kw_only=True):
    """A pull through the braid; ``crossover`` is where the first stage stops, or empty."""

    part: Part
    start: str
    end: str
    crossover: str = ""
    source: str


class TuckCount(Entry, frozen=True, kw_only=True):
    """How many full tucks; the first that applies is taken."""

    count: int
    source: str
    when: When = When()


class TaperedTucks(Entry, frozen=True, kw_only=True):
    """Further tucks of a tapered finish: how many, and the part of each strand that is left in each."""

    extra: int
    fractions: tuple[float, ...]
    source: str


class TuckRule(Entry, frozen=True, kw_only=True):
    """Tucks of a laid rope: the names of the lengths that tell unlay, tail and one tuck.

    Attributes:
        counts: full tucks on each side; the first that applies.
        sides: 2 where two ropes are joined.
        tapered: the further tucks of a tapered finish, or None where there is none.
    """

    counts: tuple[TuckCount, ...]
    unlay: str
    tail: str
    tuck: str
    sides: int = 1
    tapered: TaperedTucks | None = None


class CountRule(Entry, frozen=True, kw_only=True):
    """A number of turns or passes; rounded up."""

    name: str
    title: str
    formula: str
    source: str


class SwellingRule(Entry, frozen=True, kw_only=True):
    """How the standing part swells over a bury, so that it shortens (see ``braid``).

    Attributes:
        bury: name of the length that is buried; ``taper`` that of its taper.
        buries: how many such buries the splice has.
        braid_angle_deg: default angle of a strand to the axis.
        full: default growth of the mean diameter where a whole tail lies inside.
    """

    bury: str
    taper: str
    buries: int
    braid_angle_deg: float
    full: float
    source: str


class FinishedRule(Entry, frozen=True, kw_only=True):
    """The method's own sum: cut length from the finished length, and back.

    Attributes:
        what: what the finished length measures.
        cut: formula of the cut length in ``finished`` (or ``shortest`` and ``longest``).
        finished: formula of the finished length in ``cut``; empty where the range gives both.
        both_cut: the same with the eye at both ends, crown to crown; ``both_finished`` back.
        leaves_out: what the sum knows nothing of, in words; whoever asks for a length is told.
    """

    what: str
    cut: str
    finished: str = ""
    both_cut: str = ""
    both_finished: str = ""
    leaves_out: str = ""
    source: str


class Bound(Entry, frozen=True, kw_only=True):
    """A length that may not be less than nothing, and what is said when it is."""

    least: str
    level: Level
    code: str
    message: str
    source: str


class ToleranceRule(Entry, frozen=True, kw_only=True):
    """How far a measure may be off while the work goes on as planned, and what it means when it is off further."""

    within: str
    if_short: str
    if_long: str
    source: str


class FillRule(Entry, frozen=True, kw_only=True):
    """What the fill profile is judged by: the most that may lie inside, and the largest step of it."""

    most: float
    most_step: float
    source: str


class Limits(Entry, frozen=True, kw_only=True):
    """Limits that a plan is checked against; None where the method has none.

    Attributes:
        eye_over_pin: least inside length of the eye over the pin's diameter.
        throat_angle_deg: most included angle at the throat.
        pin_over_rope: least pin diameter over rope diameter.
        eye_over_rope: least inside length of the eye over the rope's diameter.
        clear_over_rope: least clear rope between splices over the rope's diameter.
        tool_over_rope: most thickness of the tool over the rope's diameter.
    """

    eye_over_pin: float | None = None
    eye_over_pin_source: str = ""
    throat_angle_deg: float | None = None
    throat_angle_deg_source: str = ""
    pin_over_rope: float | None = None
    pin_over_rope_source: str = ""
    eye_over_rope: float | None = None
    eye_over_rope_source: str = ""
    clear_over_rope: float | None = None
    clear_over_rope_source: str = ""
    tool_over_rope: float | None = None
    tool_over_rope_source: str = ""


class Retained(Entry, frozen=True, kw_only=True):
    """The strength that the termination keeps; ``fraction`` None is unknown, and ``why`` says so."""

    fraction: float | None = None
    source: str = ""
    why: str = ""


class Remark(Entry, frozen=True, kw_only=True):
    """A check that depends on fibre, condition or size alone."""

    level: Level
    code: str
    message: str
    source: str
    when: When = When()


class Step(Entry, frozen=True, kw_only=True):
    """One step in words; ``{name}`` is put in from the lengths, ``{mark_ID}`` from the marks."""

    text: str
    when: When = When()
