"""Finished and cut length by the method's own sum, and counts of turns and passes."""

from __future__ import annotations

import math
from fractions import Fraction

from gearlog.domain.plan import Count, Finished
from gearlog.splicing.formula import evaluate
from gearlog.splicing.rules import FinishedRule
from gearlog.splicing.worked import Worked, cut_formula

A_HAIR = Fraction(1, 10**9)  # of a turn; what lies a float's last bit above a whole one is that one
BOTH_ENDS = "from inside crown to inside crown, the same eye at both ends"


def counts_of(worked: Worked) -> tuple[Count, ...]:
    """Numbers of turns and passes, rounded up."""
    return tuple(
        Count(
            name=rule.name,
            title=rule.title,
            count=math.ceil(evaluate(rule.formula, worked.names).value - A_HAIR),
            formula=rule.formula,
            source=worked.method.source_text(rule.source),
        )
        for rule in worked.method.counts
    )


def finished_of(worked: Worked) -> Finished | None:
    """The finished and the cut length: the one wanted from the other; None where neither is known."""
    rule = worked.method.finished
    if rule is None or "cut" not in worked.names:
        return None
    formula = cut_formula(worked.method, worked.inputs)
    finished = _finished_m(worked, rule, wanted=bool(formula))
    if finished is None:
        return None
    shown = formula or _backwards(worked, rule)
    return Finished(
        what=BOTH_ENDS if worked.inputs.both_ends and rule.both_cut else rule.what,
        finished_m=finished,
        cut_m=worked.length_m("cut"),
        formula=shown,
        worked=worked.with_values(shown),
        source=worked.method.source_text(rule.source),
        wanted=bool(formula),
        tape_cut_m=float(worked.tape_names["cut"].value),
    )


def _finished_m(worked: Worked, rule: FinishedRule, *, wanted: bool) -> float | None:
    if wanted:
        return worked.length_m("longest" if worked.method.shape == "sling" else "finished")
    formula = _backwards(worked, rule)
    return worked.length_m(formula) if formula else None


def _backwards(worked: Worked, rule: FinishedRule) -> str:
    return rule.both_finished if worked.inputs.both_ends and rule.both_finished else rule.finished
