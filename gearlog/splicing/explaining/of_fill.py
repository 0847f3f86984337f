"""The fill profile explained: its places, and the tail and the core that are left there."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.explained import Explained
from gearlog.domain.plan import Span
from gearlog.splicing.explaining.of_work import EVENLY
from gearlog.splicing.explaining.sheet import DEFINITION, Rule, Sheet
from gearlog.splicing.profile import PAIR


def fill(sheet: Sheet) -> Iterator[Explained]:
    """Each point: the throat, where the taper begins, every cut, the tail's end, and what follows after it."""
    points, rule = sheet.plan.fill, sheet.method.taper
    if not points or rule is None:
        return
    source = sheet.method.source_text(rule.source)
    for index, point in enumerate(points):
        key = f"fill[{index}]"
        yield sheet.length(f"{key}.at_m", "place in the fill profile", point.at_m, _place(sheet, index))
        inside = _inside(sheet, index, source)
        yield sheet.number(f"{key}.fraction", "part of what the braid holds", point.fraction, inside)


def _span(sheet: Sheet, kind: str) -> Span | None:
    return next((span for span in sheet.plan.spans if span.kind == kind), None)


def _place(sheet: Sheet, index: int) -> Rule:
    bury, taper, last = _span(sheet, "bury"), _span(sheet, "taper"), len(sheet.plan.fill) - 1
    show = sheet.figures.length
    if bury is None or taper is None:
        return Rule.given(show(sheet.plan.fill[index].at_m), DEFINITION)
    if index == 0:
        return Rule("bury begins", show(bury.from_m), DEFINITION)
    if index >= last - 1:
        return Rule("bury ends", show(bury.to_m), DEFINITION)
    parts, fading = max(last - 2, 1), show(taper.to_m - taper.from_m)
    worked = f"{show(bury.to_m)} - {fading} + {fading} * {index - 1} / {parts}"
    return Rule(f"bury ends - taper + taper * {index - 1} / {parts}", worked, EVENLY)


def _inside(sheet: Sheet, index: int, source: str) -> Rule:
    """The tail left after the cuts so far, and how much of the core has faded in."""
    core, last, point = _span(sheet, "core-taper"), len(sheet.plan.fill) - 1, sheet.plan.fill[index]
    if index == last:
        return Rule.given("1" if core else "0", source)
    cuts = max(0, min(index - 1, last - 3))  # none at the throat and where the taper begins, all at the tail's end
    tail, words = "1", "1"
    if cuts:
        tail, words = f"1 - {PAIR} * {cuts} / {sheet.worked.strands}", f"1 - {PAIR} * {cuts} / n"
    if core is None or point.at_m <= core.from_m:
        return Rule(words, tail, source)
    show = sheet.figures.length
    faded = f"min(1, ({show(point.at_m)} - {show(core.from_m)}) / ({show(core.to_m)} - {show(core.from_m)}))"
    formula = f"{words} + min(1, (place - core begins) / (core ends - core begins))"
    return Rule(formula, f"{tail} + {faded}", source)
