"""How far a splice reaches into its rope, and whether a cut goes through it."""

from __future__ import annotations

from fractions import Fraction

from gearlog.domain.splice import Splice

FINEST = 10**9
"""Parts of a metre; a plan's decimals are told without the noise of their last bits."""
A_HAIR = Fraction(1, 10**6)
"""Lengths (m) that differ less are one; a cut at the very end of a splice leaves it whole."""


def reach_of(splice: Splice) -> Fraction | None:
    """From the rope's end to the last of the splice (m), as the rope was measured before; None without a plan."""
    if splice.plan is None:
        return None
    used = splice.plan.rope_used_m
    last = max([mark.at_m for mark in splice.plan.marks] + ([used] if used is not None else []), default=None)
    return Fraction(last).limit_denominator(FINEST) if last is not None else None


def cuts_through(splice: Splice, from_end: Fraction) -> bool:
    """Whether a cut so far (m) from the splice's end lies within it; never where its reach is not known."""
    reach = reach_of(splice)
    return reach is not None and 0 < from_end < reach - A_HAIR
