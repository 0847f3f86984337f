"""The finished splice, by its shape. Where a plan cannot tell how it looks, nothing is drawn, and why is said."""

from __future__ import annotations

from collections.abc import Callable

from gearlog.domain.picture.parts import CORE, has_core, span_of
from gearlog.domain.plan import Plan
from gearlog.splicing.pictures.closed import closed
from gearlog.splicing.pictures.crowned import crowned
from gearlog.splicing.pictures.joined import joined
from gearlog.splicing.pictures.ring import ring
from gearlog.splicing.pictures.two_loops import two_loops
from gearlog.units.visible import folded

PICTURES: dict[str, Callable[[Plan, int], tuple[str, ...]]] = {
    "eye": closed,
    "cord": two_loops,
    "sling": two_loops,
    "loop": ring,
    "join": joined,
    "end": crowned,
}
MILKED = (
    "The finished splice is not drawn inside: the cover is milked over the core, and how far depends on the rope. "
    "Two marks that meet are told in the steps."
)


def finished(plan: Plan, width: int) -> tuple[str, ...]:
    """The finished splice; the reason where it is not drawn, nothing for a finish."""
    if is_milked(plan) and plan.shape != "cord":
        return (*folded(MILKED, width), "")
    picture = PICTURES.get(plan.shape)
    return picture(plan, width) if picture else ()


def is_milked(plan: Plan) -> bool:
    """Whether the cover is drawn over a bury in the core, so that places on one do not tell places on the other."""
    bury = span_of(plan, "bury")
    return has_core(plan) and bury is not None and bury.part == CORE
