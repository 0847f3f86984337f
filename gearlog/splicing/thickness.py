"""How much of the tail and of the core is left at a place, and the sign that shows it."""

from __future__ import annotations

from gearlog.domain.plan import Plan, Span

SIGNS = ((0.9, "#"), (0.6, "="), (0.3, "-"), (0.0, "."))
"""A sign stands for more than this share of the cross-section; thinner signs put less ink on the page."""
NOTHING = " "
TIP = 0.01  # share drawn at the very tip of a taper, so that the tip is seen


def span_of(plan: Plan, kind: str) -> Span | None:
    """The first span of this kind, or None."""
    return next((span for span in plan.spans if span.kind == kind), None)


def tail_left(plan: Plan, at_m: float) -> float:
    """The share of the tail's cross-section left at ``at_m``; 1 where nothing is taken out."""
    taper = span_of(plan, "taper")
    return 1.0 if taper is None else _left(plan, taper, at_m)


def core_left(plan: Plan, at_m: float) -> float:
    """The share of the core left at ``at_m``: nothing before its taper, all of it after."""
    taper = span_of(plan, "core-taper")
    return 1.0 if taper is None else _left(plan, taper, at_m)


def _left(plan: Plan, taper: Span, at_m: float) -> float:
    """Both tapers thin towards the working end: by the plan's cuts, or in a straight line without them."""
    if at_m >= taper.to_m:
        return 1.0
    if at_m < taper.from_m:
        return 0.0
    cuts = [step for step in plan.taper if step.part == taper.part and taper.from_m <= step.at_m <= taper.to_m]
    if cuts:
        return min((step.fraction_left for step in cuts if step.at_m > at_m), default=1.0)
    return max((at_m - taper.from_m) / (taper.to_m - taper.from_m), TIP)


def sign(fraction: float) -> str:
    """The sign for what is left; a blank where nothing is."""
    return next((shown for least, shown in SIGNS if fraction > least), NOTHING)
