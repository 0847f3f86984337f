"""A rope taken as a climbing line, against what documents ask of one: a note, for the program cannot see the rope."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.plan import Check
from gearlog.domain.vocabulary import Use
from gearlog.splicing.checks_rope import POUND_FORCE_N
from gearlog.splicing.draft import ROUNDING, Draft, found
from gearlog.splicing.strength import terminations_of

SHAPE = "eye"  # what is spliced into a climbing line; cords and slings are something else
THINNEST_M = 0.011  # 7/16 in (11 mm), where all else matches: title 8, 3422(c)
USUAL_M = 0.0127  # 1/2 in: title 8, 3422(c)
CALIFORNIA = "California Code of Regulations, title 8, 3422(c)"
Z133 = "ANSI Z133, from memory, unconfirmed"
EN_1891 = "EN 1891:1998, from memory, unconfirmed"
LBF = ((5000, CALIFORNIA), (5400, Z133))
"""Least breaking strength in lbf, and who asks for it."""
EN_ROPE_N = {"A": 22_000.0, "B": 18_000.0}
EN_ENDS_N = {"A": 15_000.0, "B": 12_000.0}
"""With its terminations, for 3 minutes."""


def climbing_line(draft: Draft) -> Iterator[Check]:
    """Where the rope, taken as a climbing line, is below what documents ask of one."""
    worked = draft.worked
    if worked.inputs.use is not Use.PEOPLE or worked.method.shape != SHAPE:
        return
    short = [*_thickness(draft), *_strength(draft), *_terminations(draft)]
    if short:
        words = "; ".join(text for text, _ in short)
        sources = "; ".join(dict.fromkeys(source for _, source in short))
        yield found("note", "climbing-line", f"If it is a climbing line: {words}.", sources)


def _thickness(draft: Draft) -> Iterator[tuple[str, str]]:
    size = draft.worked.inputs.rope.diameter_m
    if size < THINNEST_M * (1 - ROUNDING):
        yield "it is thinner than 7/16 in (11 mm), the least that is named", CALIFORNIA
    elif size < USUAL_M * (1 - ROUNDING):
        matching = "strength and stretch (at most 7 % at 500 lbf) match and its maker says so"
        yield f"thinner than 1/2 in (12.7 mm) it serves only where {matching}", CALIFORNIA


def _strength(draft: Draft) -> Iterator[tuple[str, str]]:
    mbs = draft.worked.inputs.rope.mbs_n
    if mbs is None:
        return
    asked = [
        (f"{pounds:,} lbf ({pounds * POUND_FORCE_N / 1000:.2f} kN)", source)
        for pounds, source in LBF
        if _below(mbs, pounds * POUND_FORCE_N)
    ]
    if _below(mbs, EN_ROPE_N["A"]):
        asked.append((_by_type(EN_ROPE_N), EN_1891))
    if asked:
        least = ", ".join(text for text, _ in asked)
        yield f"its breaking strength is to be at least {least}", "; ".join(source for _, source in asked)


def _terminations(draft: Draft) -> Iterator[tuple[str, str]]:
    """The weakest splice or knot of those that are known."""
    known = [(link.strength_n, link.name) for link in terminations_of(draft.worked.method, draft.worked.inputs)]
    held = min(((newtons, name) for newtons, name in known if newtons is not None), default=None)
    if held is not None and _below(held[0], EN_ENDS_N["A"]):
        told = f"{held[1]} holds {draft.worked.force(held[0])}"
        yield f"{told}, and with its terminations it is to hold {_by_type(EN_ENDS_N)} for 3 minutes", EN_1891


def _below(newtons: float, least: float) -> bool:
    return newtons < least * (1 - ROUNDING)


def _by_type(least: dict[str, float]) -> str:
    return " or ".join(f"{newtons / 1000:g} kN (type {kind})" for kind, newtons in least.items())
