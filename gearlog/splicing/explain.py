"""Explain: for any number of a plan its formula, the values put in, what went in and where it is from. Pure."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from gearlog.domain.explained import Explained
from gearlog.domain.plan import Plan
from gearlog.splicing.explaining import of_eye, of_fill, of_lengths, of_strength, of_work
from gearlog.splicing.explaining.sheet import Sheet
from gearlog.splicing.method import Method

PARTS: tuple[Callable[[Sheet], Iterator[Explained]], ...] = (
    of_lengths.identity,
    of_lengths.fid,
    of_lengths.lengths,
    of_lengths.marks,
    of_lengths.spans,
    of_work.taper,
    of_fill.fill,
    of_work.pulls,
    of_work.tucks,
    of_eye.eye,
    of_eye.shortening,
    of_lengths.counts,
    of_lengths.finished,
    of_lengths.tolerances,
    of_strength.strength,
)
STANDING = (of_lengths.identity, of_strength.strength)
"""What is known of a plan that has no numbers to cut by."""


def explain(plan: Plan, method: Method) -> tuple[Explained, ...]:
    """Every number of ``plan``, which ``method`` gave, in the order in which it is read; inputs are not explained."""
    sheet = Sheet(plan, method)
    parts = PARTS if plan.rope_used_m is not None else STANDING
    return tuple(one for part in parts for one in part(sheet))
