"""The method: the rule set of one splice as data. These records are what a method file must hold.

Formulas (see ``formula``) may use: ``d`` rope diameter, ``fid`` 21 d, ``eye`` inside length, ``loop`` = 2 eye,
``n`` strands or carriers, ``tucks`` the count of full tucks, ``mm`` and ``inch``, and every length named earlier.
"""

from __future__ import annotations

from typing import Literal

import msgspec

from gearlog.domain.plan import Level

COMMON_PRACTICE = "common-practice"
COMMON_PRACTICE_LABEL = "common practice, unconfirmed"
OWN = "own"

SpanKind = Literal["tail", "taper", "eye", "bury", "core-taper", "unlay", "tucks", "standing"]
Part = Literal["rope", "cover", "core", "strand"]
Measurable = Literal["", "lay", "pick"]


class _Entry(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A table of a method file: a misspelt key is a fault, not a silence."""


class When(_Entry, frozen=True, kw_only=True):
    """Where an entry applies; an empty list means everywhere, and every list that is given must hold.

    Attributes:
        fibres: ids of fibres; ``""`` stands for a fibre that is not known.
        conditions: conditions of the rope.
        least_diameter: from this diameter on, for example ``"1 in"``.
        below_diameter: below this diameter.
    """

    fibres: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    least_diameter: str = ""
    below_diameter: str = ""


class Fits(_Entry, frozen=True, kw_only=True):
    """The ropes a method is meant for."""

    constructions: tuple[str, ...]
    lays: tuple[str, ...] = ()
    strands: tuple[int, ...] = ()
    source: str


class NeededTool(_Entry, frozen=True, kw_only=True):
    """A tool the method asks for."""

    name: str
    what_for: str = ""


class LengthRule(_Entry, frozen=True, kw_only=True):
    """A named length. Of several with one name the first that applies is taken.

    Attributes:
        measured: ``lay`` or ``pick`` when the user's own measure replaces the formula.
    """

    name: str
    title: str
    formula: str
    source: str
    when: When = When()
    measured: Measurable = ""


class MarkRule(_Entry, frozen=True, kw_only=True):
    """A mark: where it lies on which part, and what to do there."""

    id: str
    name: str
    part: Part
    at: str
    do: str
    source: str


class SpanRule(_Entry, frozen=True, kw_only=True):
    """A stretch for the drawing."""

    kind: SpanKind
    part: Part
    start: str
    end: str


class TaperRule(_Entry, frozen=True, kw_only=True):
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


class PullRule(_Entry, frozen=True, kw_only=True):
    """A pull through the braid; ``crossover`` is where the first stage stops, or empty."""

    part: Part
    start: str
    end: str
    crossover: str = ""
    source: str


class TuckCount(_Entry, frozen=True, kw_only=True):
    """How many full tucks; the first that applies is taken."""

    count: int
    source: str
    when: When = When()


class TuckRule(_Entry, frozen=True, kw_only=True):
    """Tucks of a laid rope: the names of the lengths that tell unlay, tail and one tuck."""

    counts: tuple[TuckCount, ...]
    unlay: str
    tail: str
    tuck: str


class Limits(_Entry, frozen=True, kw_only=True):
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


class Retained(_Entry, frozen=True, kw_only=True):
    """The strength that the termination keeps; ``fraction`` None is unknown, and ``why`` says so."""

    fraction: float | None = None
    source: str = ""
    why: str = ""


class Remark(_Entry, frozen=True, kw_only=True):
    """A check that depends on fibre, condition or size alone."""

    level: Level
    code: str
    message: str
    source: str
    when: When = When()


class Step(_Entry, frozen=True, kw_only=True):
    """One step in words; ``{name}`` is put in from the lengths, ``{mark_ID}`` from the marks."""

    text: str
    when: When = When()


class Method(_Entry, frozen=True, kw_only=True):
    """The rule set of one splice.

    Attributes:
        sources: documents named in the file, by key; ``common-practice`` and ``own`` need no entry.
        own: whether it is the user's own; set by the reader, never by the file.
    """

    id: str
    title: str
    version: int
    summary: str
    shape: Literal["eye"]
    fits: Fits
    sources: dict[str, str] = {}
    tools: tuple[NeededTool, ...] = ()
    lengths: tuple[LengthRule, ...]
    marks: tuple[MarkRule, ...]
    spans: tuple[SpanRule, ...]
    taper: TaperRule | None = None
    pulls: tuple[PullRule, ...] = ()
    tucks: TuckRule | None = None
    limits: Limits = Limits()
    strength: Retained = Retained()
    remarks: tuple[Remark, ...] = ()
    steps: tuple[Step, ...]
    rope_used: str
    finish: str
    own: bool = False

    @property
    def constructions(self) -> tuple[str, ...]:
        """Ids of the constructions it fits."""
        return self.fits.constructions

    def source_text(self, key: str) -> str:
        """The source in words; several keys are joined by ``+``."""
        return "; ".join(self._one_source(part.strip()) for part in key.split("+"))

    def _one_source(self, key: str) -> str:
        if key == COMMON_PRACTICE:
            return COMMON_PRACTICE_LABEL
        if key == OWN:
            return "the user's own"
        name, _, clause = key.partition(" ")
        return f"{self.sources[name]} {clause}".strip()
