"""Pulls, taper cuts and tucks explained."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from gearlog.domain.explained import Explained
from gearlog.domain.plan import Pull, TaperStep, Tucks
from gearlog.splicing.explaining.figures import plain
from gearlog.splicing.explaining.of_lengths import named_rule
from gearlog.splicing.explaining.sheet import DEFINITION, Rule, Sheet
from gearlog.splicing.formula import evaluate
from gearlog.splicing.profile import pairs_leaving
from gearlog.splicing.pulls import Leg, legs_of
from gearlog.splicing.rules import TaperRule, TuckRule

EVENLY = "the pairs leave evenly over the taper, one strand of each lay at a time"


def pulls(sheet: Sheet) -> Iterator[Explained]:
    """Where each stage goes in and comes out, how long it is, and which it is."""
    rest = iter(enumerate(sheet.plan.pulls))
    for leg in legs_of(sheet.worked):
        for stage in range(leg.stages):
            number, pull = next(rest)
            yield from _pull(sheet, leg, stage, (number, pull))


def _pull(sheet: Sheet, leg: Leg, stage: int, numbered: tuple[int, Pull]) -> Iterator[Explained]:
    number, pull = numbered
    key, figure = f"pulls[{number}]", sheet.figures.length
    yield sheet.length(f"{key}.from_m", "goes in at", pull.from_m, _stop_rule(sheet, leg, stage))
    yield sheet.length(f"{key}.to_m", "comes out at", pull.to_m, _stop_rule(sheet, leg, stage + 1))
    if pull.tape_from_m is not None and pull.tape_to_m is not None:
        going_in, coming_out = (sheet.nearest_on_tape(_stop_formula(leg, index)) for index in (stage, stage + 1))
        yield sheet.length(f"{key}.tape_from_m", "goes in at, on the tape", pull.tape_from_m, going_in)
        yield sheet.length(f"{key}.tape_to_m", "comes out at, on the tape", pull.tape_to_m, coming_out)
    far, near = sorted((pull.from_m, pull.to_m), reverse=True)
    between = Rule("far end - near end", f"{figure(far)} - {figure(near)}", DEFINITION)
    yield sheet.length(f"{key}.length_m", "length of the pull", pull.length_m, between)
    counted = Rule("pulls before + 1", f"{number} + 1", DEFINITION)
    yield sheet.number(f"{key}.stage", "which pull it is", pull.stage, counted)


def _stop_rule(sheet: Sheet, leg: Leg, index: int) -> Rule:
    """The end of a stage: a place of the method, or one of equal parts between two."""
    source = sheet.method.source_text(leg.rule.source)
    rule = sheet.by_formula(_stop_formula(leg, index), source)
    if index in (0, leg.stages):
        return rule
    reach = sheet.figures.length(leg.tool.length_m) if leg.tool else ""
    length, tool = sheet.figures.length(abs(leg.end_m - leg.start_m)), leg.tool.name if leg.tool else ""
    stages = f"stages = ceil({length} / {reach}) = {leg.stages}: the reach of '{tool}'"
    return Rule(rule.formula, rule.worked, rule.source, (*rule.went_in, stages))


def _stop_formula(leg: Leg, index: int) -> str:
    if index in (0, leg.stages):
        return leg.end if index else leg.start
    return f"({leg.start}) + (({leg.end}) - ({leg.start})) * {index} / {leg.stages}"


def taper(sheet: Sheet) -> Iterator[Explained]:
    """Where strands leave, how many are left, and which part of the section."""
    rule, tucks = sheet.method.taper, sheet.method.tucks
    for index, step in enumerate(sheet.plan.taper):
        if rule is not None:
            yield from _pair(sheet, rule, step, index + 1)
        elif tucks is not None:
            yield from _thinned(sheet, tucks, step, index)


def _pair(sheet: Sheet, rule: TaperRule, step: TaperStep, number: int) -> Iterator[Explained]:
    key, title = f"taper[{number - 1}]", f"taper cut {number}"
    formula, pick = _cut_formula(sheet, rule, number), sheet.plan.inputs.rope.pick_length_m
    also = {"pick": sheet.figures.length(pick)} if pick else {}
    at = sheet.by_formula(formula, sheet.method.source_text(rule.source), also)
    at = Rule(at.formula, at.worked, at.source, (*at.went_in, _pairs_words(sheet, rule), EVENLY))
    yield sheet.length(f"{key}.at_m", title, step.at_m, at)
    if step.tape_m is not None:
        on_tape = sheet.nearest_on_tape(formula, also)
        yield sheet.length(f"{key}.tape_m", f"{title}, on the tape", step.tape_m, on_tape)
    if step.picks is not None and pick:
        told = f"{title}, picks from the taper's beginning"
        yield sheet.number(f"{key}.picks", told, step.picks, _picks(sheet, rule, step))
    n = plain(sheet.worked.strands)
    counted = (f"n = {n}: {'the usual number' if sheet.worked.strands_assumed else 'as typed'}",)
    left = Rule(f"n - 2 * {number}", f"{n} - 2 * {number}", EVENLY, counted)
    yield sheet.number(f"{key}.strands_left", f"{title}, strands left", step.strands_left, left)
    part = Rule(f"1 - 2 * {number} / n", f"1 - 2 * {number} / {n}", EVENLY, counted)
    yield sheet.number(f"{key}.fraction_left", f"{title}, part of the section left", step.fraction_left, part)


def _cut_formula(sheet: Sheet, rule: TaperRule, number: int) -> str:
    """Where the pair is cut, in the method's names; to the nearest whole pick where its length is known."""
    names, parts = sheet.worked.names, _pairs(sheet, rule) + 1
    begins, ends = f"({rule.begins})", f"({rule.ends})"
    outwards = evaluate(rule.ends, names).value > evaluate(rule.begins, names).value
    way, length = ("+", f"({ends} - {begins})") if outwards else ("-", f"({begins} - {ends})")
    if not sheet.plan.inputs.rope.pick_length_m:
        return f"{begins} {way} {length} * {number} / {parts}"
    return f"{begins} {way} min(floor({length} * {number} / {parts} / pick + 1/2) * pick, {length})"


def _picks(sheet: Sheet, rule: TaperRule, step: TaperStep) -> Rule:
    """The whole picks between the taper's beginning and the cut."""
    begins = float(evaluate(rule.begins, sheet.worked.names).value)
    show = sheet.figures.length
    far, near = sorted((begins, step.at_m), reverse=True)
    worked = f"floor(({show(far)} - {show(near)}) / {show(sheet.plan.inputs.rope.pick_length_m or 0.0)} + 1/1000)"
    return Rule("floor(distance from the taper's beginning / pick)", worked, EVENLY)


def _pairs(sheet: Sheet, rule: TaperRule) -> int:
    return pairs_leaving(sheet.worked.strands, float(evaluate(rule.strands_left, sheet.worked.names).value))


def _pairs_words(sheet: Sheet, rule: TaperRule) -> str:
    stay = f"strands that stay = {rule.strands_left}, up to whole pairs, one pair at least"
    return f"pairs = (n - strands that stay) / 2 = {_pairs(sheet, rule)}; {stay}"


def _thinned(sheet: Sheet, rule: TuckRule, step: TaperStep, index: int) -> Iterator[Explained]:
    """Each strand thinned before a tapered tuck, which begins where the tuck before it ends."""
    last = max(sheet.method.spans, key=lambda span: evaluate(span.end, sheet.worked.names).value).end
    formula, key, title = f"{last} + {index} * {rule.tuck}", f"taper[{index}]", f"tapered tuck {index + 1}"
    source = sheet.method.source_text(rule.tapered.source) if rule.tapered else DEFINITION
    yield sheet.length(f"{key}.at_m", title, step.at_m, sheet.by_formula(formula, source))
    if step.tape_m is not None:
        yield sheet.length(f"{key}.tape_m", f"{title}, on the tape", step.tape_m, sheet.nearest_on_tape(formula))
    strands = Rule("n", plain(step.strands_left), DEFINITION)
    yield sheet.number(f"{key}.strands_left", f"{title}, strands", step.strands_left, strands)
    part = Rule.given(plain(Fraction(repr(step.fraction_left))), source)
    yield sheet.number(f"{key}.fraction_left", f"{title}, part of each strand left", step.fraction_left, part)


def tucks(sheet: Sheet) -> Iterator[Explained]:
    """Full tucks, unlaid length, tail and the length of one tuck."""
    found, rule = sheet.plan.tucks, sheet.method.tucks
    if found is None or rule is None:
        return
    each = plain(sheet.worked.names["tucks"].value)
    in_all = Rule("sides * tucks on a side", f"{found.sides} * {each}", found.source)
    yield sheet.number("tucks.count", "full tucks in all", found.count, in_all)
    sides = Rule.given(plain(found.sides), DEFINITION)
    yield sheet.number("tucks.sides", "sides with tucks", found.sides, sides)
    tapered = Rule.given(plain(found.tapered), found.tapered_source or "none were asked for")
    yield sheet.number("tucks.tapered", "further, thinned tucks", found.tapered, tapered)
    yield from _tuck_lengths(sheet, found, rule)


def _tuck_lengths(sheet: Sheet, found: Tucks, rule: TuckRule) -> Iterator[Explained]:
    for name, key, number in (
        (rule.unlay, "unlay_m", found.unlay_m),
        (rule.tail, "tail_m", found.tail_m),
        (rule.tuck, "tuck_m", found.tuck_m),
    ):
        length = sheet.lengths[name]
        yield sheet.length(f"tucks.{key}", length.title, number, named_rule(sheet, length))
