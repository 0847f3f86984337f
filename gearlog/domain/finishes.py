"""Finishes: work at an end that is no splice. A whipping keeps a bare end; stitch and seizing secure an eye."""

from __future__ import annotations

from gearlog.domain.splice import Splice

SHAPE = "finish"
"""The shape of the plans of such methods."""
WHIPPINGS = frozenset({"whip-common", "whip-sailmaker", "whip-stitched"})
"""Methods that keep an end from coming apart."""
SECURING = frozenset({"lock-stitch", "throat-seizing"})
"""Methods that secure a splice which is there."""


def is_finish(splice: Splice) -> bool:
    """Whether the record is of a finish and no splice."""
    if splice.method in WHIPPINGS | SECURING:
        return True
    return splice.plan is not None and splice.plan.shape == SHAPE


def is_whipping(splice: Splice) -> bool:
    """Whether the record is of a whipping."""
    return splice.method in WHIPPINGS
