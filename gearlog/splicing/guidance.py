"""Which termination suits this rope: the methods that fit, and for each that does not, why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from gearlog.domain.constructions import construction
from gearlog.domain.plan import RopeSpec
from gearlog.splicing.fitting import unfit
from gearlog.splicing.method import Method

SHAPES = ("eye", "cord", "join", "loop", "sling", "end", "finish")
"""In the order in which they are offered."""


@dataclass(frozen=True, slots=True)
class Advice:
    """One termination for a rope.

    Attributes:
        method_id: the method, or empty for what is done instead of a splice.
        title: its name.
        fits: whether it suits the rope.
        reason: what it does, or why it does not suit.
        finish: whether it only finishes an end or a splice, and carries nothing.
    """

    method_id: str
    title: str
    fits: bool
    reason: str
    finish: bool = False


def which_methods(methods: Sequence[Method], rope: RopeSpec) -> tuple[Advice, ...]:
    """The methods for ``rope``: those that fit first, eyes before joins before finishes; then those that do not.

    Where nothing that carries fits, what is done instead stands at the top.
    """
    rank = {shape: place for place, shape in enumerate(SHAPES)}
    ordered = sorted(methods, key=lambda method: (rank[method.shape], method.id))
    advice = sorted((_advice(method, rope) for method in ordered), key=lambda one: not one.fits)
    if any(one.fits and not one.finish for one in advice):
        return tuple(advice)
    return (_instead(rope), *advice)


def _instead(rope: RopeSpec) -> Advice:
    kind = construction(rope.construction)
    if kind.splices(rope.lay):
        reason = f"Eyes are spliced in {kind.title}, but no method in this log fits this one; follow the maker's sheet."
        return Advice("", "the maker's own instructions", fits=True, reason=reason)
    reason = f"No eye splice is commonly published for it: {kind.instead_of_splice(rope.lay)}."
    return Advice("", "sewn or knotted", fits=True, reason=reason)


def _advice(method: Method, rope: RopeSpec) -> Advice:
    stops = [check.message for check in unfit(method, rope) if check.level == "stop"]
    return Advice(
        method.id,
        method.title,
        fits=not stops,
        reason=stops[0] if stops else method.summary,
        finish=not method.carries,
    )
