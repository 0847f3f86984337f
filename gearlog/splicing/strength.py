"""Strength along the chain: rope, splice, knots that stay in it, hardware. The weakest part is the line's.

WLL of a part = its strength / its design factor; the line's is the least of them. Fractions are not multiplied: a knot
and a splice far apart each weaken their own place. What is not known stays unknown, and so does the whole.
"""

from __future__ import annotations

from gearlog.domain.plan import ChainLink, Strength
from gearlog.domain.plan_inputs import PlanInputs
from gearlog.domain.vocabulary import Condition
from gearlog.splicing.knots import knot
from gearlog.splicing.method import COMMON_PRACTICE_LABEL, NO_SOURCE, OWN_LABEL, Method

DESIGN_FACTOR = 10.0  # lifting or supporting people; taken for every use unless the user says; common practice
HARDWARE_FACTOR = 5.0  # hardware rated by its maker; common practice
WET_POLYAMIDE_KEPT = 0.85  # UFC 4-159-03 Table 3-7: wet nylon, take off 15 %
WET_POLYAMIDE_SOURCE = "UFC 4-159-03 Table 3-7 (wet polyamide, 15 % off)"


def strength_of(method: Method, inputs: PlanInputs) -> Strength:
    """What the finished line carries (N), with the source of every factor and the weakest part named."""
    kept = method.strength.fraction if method.carries else None
    chain = chain_of(method, inputs)
    wet = _is_wet_polyamide(inputs)
    limits = [link.wll_n for link in chain]
    known = [limit for limit in limits if limit is not None]
    return Strength(
        mbs_n=inputs.rope.mbs_n,
        retained_fraction=kept,
        retained_source=method.source_text(method.strength.source) if kept is not None else None,
        design_factor=inputs.design_factor or DESIGN_FACTOR,
        design_factor_source=OWN_LABEL if inputs.design_factor else COMMON_PRACTICE_LABEL,
        wll_n=min(known) if known and len(known) == len(limits) and method.carries else None,
        condition_fraction=WET_POLYAMIDE_KEPT if wet else 1.0,
        condition_source=WET_POLYAMIDE_SOURCE if wet else None,
        chain=chain,
        weakest=_weakest(chain),
    )


def chain_of(method: Method, inputs: PlanInputs) -> tuple[ChainLink, ...]:
    """The parts that carry, each with what it holds and where that is from."""
    rope = _rope_link(inputs, "rope", 1.0, "as typed" if inputs.rope.mbs_n else NO_SOURCE)
    hardware = (_hardware_link(inputs, one.name, one.strength_n) for one in inputs.hardware)
    return (rope, *terminations_of(method, inputs), *hardware)


def terminations_of(method: Method, inputs: PlanInputs) -> tuple[ChainLink, ...]:
    """The splice and the knots that stay in the line."""
    links = []
    if method.carries:
        kept = method.strength.fraction
        source = method.source_text(method.strength.source) if kept is not None else method.keeps_unknown
        links.append(_rope_link(inputs, method.title, kept, source))
    links += [_rope_link(inputs, one.title, one.kept, one.source) for one in map(knot, inputs.knots)]
    return tuple(links)


def _rope_link(inputs: PlanInputs, name: str, kept: float | None, source: str) -> ChainLink:
    mbs, factor = inputs.rope.mbs_n, inputs.design_factor or DESIGN_FACTOR
    wet = WET_POLYAMIDE_KEPT if _is_wet_polyamide(inputs) else 1.0
    strength = None if mbs is None or kept is None else mbs * wet * kept
    return ChainLink(
        name=name,
        retained_fraction=kept,
        strength_n=strength,
        design_factor=factor,
        source=source,
        wll_n=None if strength is None else strength / factor,
    )


def _hardware_link(inputs: PlanInputs, name: str, strength_n: float | None) -> ChainLink:
    factor = inputs.design_factor or HARDWARE_FACTOR
    mbs = inputs.rope.mbs_n
    return ChainLink(
        name=name,
        retained_fraction=strength_n / mbs if strength_n is not None and mbs else None,
        strength_n=strength_n,
        design_factor=factor,
        source="as typed" if strength_n is not None else NO_SOURCE,
        wll_n=None if strength_n is None else strength_n / factor,
    )


def _weakest(chain: tuple[ChainLink, ...]) -> str | None:
    """The weakest part of those that are known, and how many are not."""
    known = [(link.wll_n, link.name) for link in chain if link.wll_n is not None]
    if not known:
        return None
    unknown = len(chain) - len(known)
    name = min(known, key=lambda one: one[0])[1]
    return f"{name}, of the parts that are known" if unknown else name


def _is_wet_polyamide(inputs: PlanInputs) -> bool:
    return inputs.condition == Condition.WET and "polyamide" in (inputs.rope.fibre, inputs.rope.core_fibre)
