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
    Origin,
    PullRule,
    Remark,
    Retained,
    Shape,
    SpanRule,
    Step,
    SwellingRule,
    TaperRule,
    ToleranceRule,
    TuckRule,
)

COMMON_PRACTICE = "common-practice"
COMMON_PRACTICE_LABEL = "common practice, unconfirmed"
OWN = "own"
OWN_LABEL = "the user's own"
NO_SOURCE = "no citable source"
NO_OWN_FIGURE = "no break tests entered"
NOT_YOURS = (
    "the figure in its file is of the published method, and this one is your own; enter your break tests or the "
    'maker\'s figure there, with source = "own"'
)
"""Why a figure in a method of the user's own does not count."""
OWN_MARK = "own, experimental"
"""Stands behind the title of every method of the user's own, so that it is on every output."""


class Method(Entry, frozen=True, kw_only=True):
    """The rule set of one splice.

    Attributes:
        shape: what is made; the drawing and the strength follow it.
        asks: inputs beyond the rope that it cannot do without.
        sources: documents named in the file, by key; ``common-practice`` and ``own`` need no entry.
        origin: where its distances begin.
        own: whether it is the user's own; set by the reader, never by the file.
    """

    id: str
    title: str
    version: int
    summary: str
    shape: Shape
    origin: Origin = "working end"
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
    mark_tolerance: ToleranceRule = ToleranceRule(
        within="d / 2",
        if_short="The mark lies nearer to the end than planned, so less would be buried or tucked: measure again and "
        "mark anew before anything is cut.",
        if_long="The mark lies further from the end than planned: more rope is used; move every mark that follows by "
        "the same, or mark anew.",
        source=COMMON_PRACTICE,
    )
    eye_tolerance: ToleranceRule = ToleranceRule(
        within="d / 2",
        if_short="The eye came out smaller than planned: before the finish is made, ease the throat open and milk the "
        "rope back; check that the pin or thimble still goes in.",
        if_long="The eye came out larger than planned: before the finish is made, draw the tail further in, so that "
        "the throat closes; check that nothing is left bunched in the bury.",
        source=COMMON_PRACTICE,
    )
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

    @property
    def keeps_unknown(self) -> str:
        """What stands as source where the strength that it keeps is unknown."""
        return NO_OWN_FIGURE if self.own else NO_SOURCE

    def source_text(self, key: str) -> str:
        """The source in words; several keys are joined by ``+``."""
        return "; ".join(self._one_source(part.strip()) for part in key.split("+"))

    def _one_source(self, key: str) -> str:
        name, _, clause = key.partition(" ")
        words = {COMMON_PRACTICE: COMMON_PRACTICE_LABEL, OWN: OWN_LABEL}.get(name) or self.sources[name]
        return f"{words} {clause}".strip()


def as_own(method: Method) -> Method:
    """The method as the user's own: marked so in its title, and keeping only what the user found it to keep.

    A published figure is of the published method; what another way of making it keeps is not known from that.
    """
    kept, title = method.strength, f"{method.title} ({OWN_MARK})"
    found = {part.strip().partition(" ")[0] for part in kept.source.split("+")} == {OWN}
    if kept.fraction is not None and not found:
        kept = Retained(why=NOT_YOURS)
    return msgspec.structs.replace(method, own=True, title=title, strength=kept)
