"""Strength: WLL = MBS x condition x retained fraction / design factor. What is not known stays unknown."""

from __future__ import annotations

from gearlog.domain.plan import PlanInputs, Strength
from gearlog.domain.vocabulary import Condition
from gearlog.splicing.method import COMMON_PRACTICE_LABEL, Method

DESIGN_FACTOR = 10.0  # lifting or supporting people; taken for every use unless the user says; common practice
WET_POLYAMIDE_KEPT = 0.85  # UFC 4-159-03 Table 3-7: wet nylon, take off 15 %
WET_POLYAMIDE_SOURCE = "UFC 4-159-03 Table 3-7 (wet polyamide, 15 % off)"


def strength_of(method: Method, inputs: PlanInputs) -> Strength:
    """What the finished end carries (N), with the source of every factor."""
    mbs, kept = inputs.rope.mbs_n, method.strength.fraction
    factor = inputs.design_factor or DESIGN_FACTOR
    wet = inputs.condition == Condition.WET and "polyamide" in (inputs.rope.fibre, inputs.rope.core_fibre)
    condition = WET_POLYAMIDE_KEPT if wet else 1.0
    return Strength(
        mbs_n=mbs,
        retained_fraction=kept,
        retained_source=method.source_text(method.strength.source) if kept is not None else None,
        design_factor=factor,
        design_factor_source="the user's own" if inputs.design_factor else COMMON_PRACTICE_LABEL,
        wll_n=None if mbs is None or kept is None else mbs * condition * kept / factor,
        condition_fraction=condition,
        condition_source=WET_POLYAMIDE_SOURCE if wet else None,
    )
