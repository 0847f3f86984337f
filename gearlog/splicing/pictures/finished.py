"""The finished splice, by its shape. Where a plan cannot tell how it looks, nothing is drawn, and why is said."""

from __future__ import annotations

from collections.abc import Callable

from gearlog.domain.picture.labels import MILKED
from gearlog.domain.picture.parts import is_milked
from gearlog.domain.plan import Plan
from gearlog.splicing.pictures.closed import closed
from gearlog.splicing.pictures.crowned import crowned
from gearlog.splicing.pictures.endless import endless
from gearlog.splicing.pictures.joined import joined
from gearlog.splicing.pictures.ring import ring
from gearlog.splicing.pictures.two_loops import two_loops
from gearlog.units.visible import folded

PICTURES: dict[str, Callable[[Plan, int], tuple[str, ...]]] = {
    "eye": closed,
    "cord": two_loops,
    "sling": lambda plan, width: two_loops(plan, width) or endless(plan, width),
    "loop": ring,
    "join": joined,
    "end": crowned,
}


def finished(plan: Plan, width: int) -> tuple[str, ...]:
    """The finished splice; the reason where it is not drawn, nothing for a finish."""
    if is_milked(plan) and plan.shape != "cord":
        return (*folded(MILKED, width), "")
    picture = PICTURES.get(plan.shape)
    return picture(plan, width) if picture else ()
