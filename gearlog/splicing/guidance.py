"""Which termination suits this rope: the methods that fit, and for each that does not, why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from gearlog.domain.constructions import construction
from gearlog.domain.plan import RopeSpec
from gearlog.splicing.fitting import unfit
from gearlog.splicing.method import Method


@dataclass(frozen=True, slots=True)
class Advice:
    """One termination for a rope.

    Attributes:
        method_id: the method, or empty for what is done instead of a splice.
        title: its name.
        fits: whether it suits the rope.
        reason: why, or why not.
    """

    method_id: str
    title: str
    fits: bool
    reason: str


def which_methods(methods: Sequence[Method], rope: RopeSpec) -> tuple[Advice, ...]:
    """The methods for ``rope``, those that fit first; last, what is done instead where none fits."""
    advice = sorted((_advice(method, rope) for method in methods), key=lambda one: (not one.fits, one.method_id))
    carrying = {method.id for method in methods if method.carries}
    if any(one.fits and one.method_id in carrying for one in advice):
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
    kind = construction(rope.construction)
    return Advice(method.id, method.title, fits=not stops, reason=stops[0] if stops else kind.splicing_words)
