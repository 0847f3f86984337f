"""Strength along the chain explained: what each part holds, and what the line may carry."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.explained import Explained
from gearlog.domain.plan import ChainLink, Strength
from gearlog.splicing.explaining.figures import plain
from gearlog.splicing.explaining.sheet import TYPED, Rule, Sheet
from gearlog.splicing.method import COMMON_PRACTICE_LABEL

LEAST = "the weakest part is the line's: fractions are not multiplied along the chain"
LIMIT = "what a part may carry is what it holds over its design factor"
NOTHING_LOST = (
    "nothing is known to be lost in this condition; rope slings keep their strength from -28.9 to 82.2 degC "
    "(-20 to 180 F), 29 CFR 1910.184(h)(2)"
)


def strength(sheet: Sheet) -> Iterator[Explained]:
    """Breaking strength, what is kept, design factor, working load limit, and the same for each part."""
    found, say = sheet.plan.strength, sheet.number
    if found.mbs_n is not None:
        typed = Rule("MBS", sheet.figures.force(found.mbs_n), TYPED)
        yield sheet.force("strength.mbs_n", "breaking strength of the rope", found.mbs_n, typed)
    if found.retained_fraction is not None:
        kept = Rule.given(plain(found.retained_fraction), found.retained_source or "")
        yield say("strength.retained_fraction", "part that the splice keeps", found.retained_fraction, kept)
    factor = Rule.given(plain(found.design_factor), found.design_factor_source)
    yield say("strength.design_factor", "design factor", found.design_factor, factor)
    left = Rule.given(plain(found.condition_fraction), found.condition_source or NOTHING_LOST)
    yield say("strength.condition_fraction", "part kept in this condition", found.condition_fraction, left)
    for index, link in enumerate(found.chain):
        yield from _link(sheet, f"strength.chain[{index}]", link)
    if found.wll_n is not None:
        yield sheet.force("strength.wll_n", "working load limit", found.wll_n, _limit(sheet, found))


def _limit(sheet: Sheet, found: Strength) -> Rule:
    limits = [(sheet.figures.force(link.wll_n), link.name) for link in found.chain if link.wll_n is not None]
    worked = f"min({', '.join(force for force, _ in limits)})"
    went_in = tuple(f"{force}: {name}" for force, name in limits)
    return Rule("min(of every part: strength / design factor)", worked, LEAST, went_in)


def _link(sheet: Sheet, key: str, link: ChainLink) -> Iterator[Explained]:
    """One part: its share, what it holds, its design factor and what it may carry."""
    found = sheet.plan.strength
    if link.retained_fraction is not None:
        share = _share(sheet, link)
        yield sheet.number(f"{key}.retained_fraction", f"part kept, {link.name}", link.retained_fraction, share)
    if link.strength_n is not None:
        yield sheet.force(f"{key}.strength_n", f"what it holds, {link.name}", link.strength_n, _holds(sheet, link))
    yours = sheet.plan.inputs.design_factor is not None
    factor = Rule.given(plain(link.design_factor), found.design_factor_source if yours else COMMON_PRACTICE_LABEL)
    yield sheet.number(f"{key}.design_factor", f"design factor, {link.name}", link.design_factor, factor)
    if link.wll_n is not None and link.strength_n is not None:
        worked = f"{sheet.figures.force(link.strength_n)} / {plain(link.design_factor)}"
        limit = Rule("strength / design factor", worked, LIMIT)
        yield sheet.force(f"{key}.wll_n", f"what it may carry, {link.name}", link.wll_n, limit)


def _is_hardware(sheet: Sheet, link: ChainLink) -> bool:
    chain = sheet.plan.strength.chain
    return link in chain[len(chain) - len(sheet.plan.inputs.hardware) :] if sheet.plan.inputs.hardware else False


def _share(sheet: Sheet, link: ChainLink) -> Rule:
    mbs, force = sheet.plan.strength.mbs_n, sheet.figures.force
    if _is_hardware(sheet, link) and mbs is not None:
        return Rule("strength / MBS", f"{force(link.strength_n or 0.0)} / {force(mbs)}", link.source)
    return Rule.given(plain(link.retained_fraction or 0.0), link.source)


def _holds(sheet: Sheet, link: ChainLink) -> Rule:
    found, force = sheet.plan.strength, sheet.figures.force
    if _is_hardware(sheet, link) or found.mbs_n is None:
        return Rule("strength", force(link.strength_n or 0.0), TYPED)
    parts = (force(found.mbs_n), plain(found.condition_fraction), plain(link.retained_fraction or 0.0))
    return Rule("MBS * condition * part kept", " * ".join(parts), link.source)
