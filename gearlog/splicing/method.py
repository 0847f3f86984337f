"""The method: the rule set of one splice as data, read from a method file."""

from __future__ import annotations

import msgspec

from gearlog.splicing.rules import (
    Asked,
    Bound,
    CountRule,
    Entry,
    FillRule,
    FinishedRule,
    Fits,
    LengthRule,
    Limits,
    MarkRule,
    NeededTool,
    PullRule,
    Remark,
    Retained,
    Shape,
    SpanRule,
    Step,
    SwellingRule,
    TaperRule,
    TuckRule,
)

COMMON_PRACTICE = "common-practice"
COMMON_PRACTICE_LABEL = "common practice, unconfirmed"
OWN = "own"


class Method(Entry, frozen=True, kw_only=True):
    """The rule set of one splice.

    Attributes:
        shape: what is made; the drawing and the strength follow it.
        asks: inputs beyond the rope that it cannot do without.
        sources: documents named in the file, by key; ``common-practice`` and ``own`` need no entry.
        own: whether it is the user's own; set by the reader, never by the file.
    """

    id: str
    title: str
    version: int
    summary: str
    shape: Shape
    asks: tuple[Asked, ...] = ()
    fits: Fits
    sources: dict[str, str] = msgspec.field(default_factory=dict)
    tools: tuple[NeededTool, ...] = ()
    lengths: tuple[LengthRule, ...]
    marks: tuple[MarkRule, ...]
    spans: tuple[SpanRule, ...]
    taper: TaperRule | None = None
    pulls: tuple[PullRule, ...] = ()
    tucks: TuckRule | None = None
    counts: tuple[CountRule, ...] = ()
    swelling: SwellingRule | None = None
    fill: FillRule | None = None
    finished: FinishedRule | None = None
    bounds: tuple[Bound, ...] = ()
    limits: Limits = Limits()
    strength: Retained = Retained()
    remarks: tuple[Remark, ...] = ()
    steps: tuple[Step, ...]
    rope_used: str
    finish: str
    own: bool = False

    @property
    def carries(self) -> bool:
        """Whether it carries load; a finish or an end splice does not."""
        return self.shape not in {"end", "finish"}

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
