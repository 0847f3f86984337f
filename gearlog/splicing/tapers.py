"""Tapers: strands leave a braid in pairs, one of each lay, evenly along the taper.

With n carriers and m pairs leaving over the length T, the i-th pair (counted from where the taper begins, towards the
end) is cut at i T / (m + 1) from the beginning, to the nearest whole pick when the pick length is known; what is left
after it is 1 - 2 i / n of the cross-section.
"""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise

from gearlog.domain.plan import TaperStep
from gearlog.splicing.formula import Quantity, evaluate
from gearlog.splicing.method import TaperRule
from gearlog.splicing.tape import division_m, nearest
from gearlog.splicing.worked import Worked

PAIR = 2  # strands, one of each lay


def taper_of(worked: Worked) -> tuple[TaperStep, ...]:
    """The taper schedule from where the taper begins, or nothing where the method has none."""
    rule = worked.method.taper
    if rule is None or worked.strands < 2 * PAIR or worked.strands % PAIR:
        return ()
    begins, ends = evaluate(rule.begins, worked.names), evaluate(rule.ends, worked.names)
    tape_begins, tape_ends = evaluate(rule.begins, worked.tape_names), evaluate(rule.ends, worked.tape_names)
    pairs, division = pairs_leaving(worked, rule), division_m(worked.inputs)
    return tuple(
        TaperStep(
            part=rule.part,
            at_m=float(_cut(begins, ends, Fraction(index, pairs + 1), worked)),
            strands_left=worked.strands - PAIR * index,
            fraction_left=1 - PAIR * index / worked.strands,
            tape_m=float(nearest(_cut(tape_begins, tape_ends, Fraction(index, pairs + 1), worked), division)),
        )
        for index in range(1, pairs + 1)
    )


def pairs_leaving(worked: Worked, rule: TaperRule) -> int:
    """How many pairs leave: what stays is rounded up to whole pairs, at least one pair."""
    asked = evaluate(rule.strands_left, worked.names).value
    stay = max(PAIR, PAIR * math.ceil(asked / PAIR))
    return max(0, (worked.strands - stay) // PAIR)


def largest_step(steps: tuple[TaperStep, ...]) -> float:
    """The largest part of the cross-section that leaves at once, the tail's own end included."""
    left = [1.0, *(step.fraction_left for step in steps), 0.0]
    return max(before - after for before, after in pairwise(left))


def _cut(begins: Quantity, ends: Quantity, part: Fraction, worked: Worked) -> Fraction:
    """Where a pair is cut, from the working end; to the nearest whole pick, a half towards the end."""
    distance = (begins.value - ends.value) * part
    pick = worked.inputs.rope.pick_length_m
    if pick:
        exact = Fraction(repr(pick))
        distance = min(math.floor(distance / exact + Fraction(1, 2)) * exact, begins.value - ends.value)
    return begins.value - distance
