"""Tapers: strands leave a braid in pairs, one of each lay, evenly along the taper.

With n carriers and m pairs leaving over the length T, the i-th pair (counted from where the taper begins, towards the
end) is cut at i T / (m + 1) from the beginning, to the nearest whole pick when the pick length is known; what is left
after it is 1 - 2 i / n of the cross-section. In laid rope each strand is thinned before each tapered tuck.
"""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise

from gearlog.domain.plan import TaperStep
from gearlog.domain.plan_inputs import RopeSpec
from gearlog.splicing.formula import Quantity, evaluate
from gearlog.splicing.names import Names
from gearlog.splicing.profile import PAIR, pairs_leaving
from gearlog.splicing.rules import TaperRule
from gearlog.splicing.tape import division_m, nearest
from gearlog.splicing.worked import Worked


def taper_of(worked: Worked) -> tuple[TaperStep, ...]:
    """The taper schedule from where the taper begins, or nothing where the method has none."""
    if worked.method.taper is not None:
        return _braid_taper(worked, worked.method.taper)
    return _tuck_taper(worked)


def largest_step(steps: tuple[TaperStep, ...]) -> float:
    """The largest part of the cross-section that leaves at once, the tail's own end included.

    Pairs that leave at one place, because picks are long, leave at once.
    """
    after = {step.at_m: step.fraction_left for step in steps}
    left = [1.0, *after.values(), 0.0]
    return max(before - after for before, after in pairwise(left))


def _braid_taper(worked: Worked, rule: TaperRule) -> tuple[TaperStep, ...]:
    if worked.strands < 2 * PAIR or worked.strands % PAIR:
        return ()
    pairs = pairs_leaving(worked.strands, float(evaluate(rule.strands_left, worked.names).value))
    exact, on_tape = (_cuts(rule, names, pairs, worked.inputs.rope) for names in (worked.names, worked.tape_names))
    division, begins = division_m(worked.inputs), evaluate(rule.begins, worked.names).value
    return tuple(
        TaperStep(
            part=rule.part,
            at_m=float(exact[index - 1]),
            strands_left=worked.strands - PAIR * index,
            fraction_left=1 - PAIR * index / worked.strands,
            tape_m=float(nearest(on_tape[index - 1], division)),
            picks=_picks(abs(exact[index - 1] - begins), worked.inputs.rope.pick_length_m),
        )
        for index in range(1, pairs + 1)
    )


def _cuts(rule: TaperRule, names: Names, pairs: int, rope: RopeSpec) -> list[Fraction]:
    """Where each pair is cut, from the working end; to the nearest whole pick, a half towards the end."""
    begins, ends = evaluate(rule.begins, names).value, evaluate(rule.ends, names).value
    length = abs(begins - ends)
    towards = 1 if ends > begins else -1
    places = (_to_picks(length * index / (pairs + 1), length, rope.pick_length_m) for index in range(1, pairs + 1))
    return [begins + towards * place for place in places]


def _to_picks(distance: Fraction, length: Fraction, pick_m: float | None) -> Fraction:
    if not pick_m:
        return distance
    pick = Fraction(repr(pick_m))
    return min(math.floor(distance / pick + Fraction(1, 2)) * pick, length)


def _picks(distance: Fraction, pick_m: float | None) -> int | None:
    """How many whole picks lie in a distance."""
    return math.floor(distance / Fraction(repr(pick_m))) if pick_m else None


def _tuck_taper(worked: Worked) -> tuple[TaperStep, ...]:
    """Each strand thinned before each tapered tuck, beyond the full tucks."""
    rule = worked.method.tucks
    if rule is None or rule.tapered is None or not worked.inputs.tapered:
        return ()
    last = max(worked.method.spans, key=lambda span: evaluate(span.end, worked.names).value).end
    return tuple(
        TaperStep(
            part="strand",
            at_m=float(_tuck_at(last, rule.tuck, worked.names, index)),
            strands_left=worked.strands,
            fraction_left=fraction,
            tape_m=float(nearest(_tuck_at(last, rule.tuck, worked.tape_names, index), division_m(worked.inputs))),
        )
        for index, fraction in enumerate(rule.tapered.fractions)
    )


def _tuck_at(last: str, tuck: str, names: Names, index: int) -> Fraction:
    """Where the tapered tuck ``index`` begins: beyond the last full tuck."""
    end: Quantity = evaluate(last, names)
    return end.value + index * names[tuck].value
