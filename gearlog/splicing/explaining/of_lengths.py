"""Lengths, marks, stretches, counts, finished and cut length explained."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.explained import Explained
from gearlog.domain.plan import Finished, NamedLength
from gearlog.splicing.explaining.figures import plain
from gearlog.splicing.explaining.sheet import DEFINITION, TYPED, Rule, Sheet
from gearlog.splicing.formula import put_in
from gearlog.splicing.method import COMMON_PRACTICE_LABEL
from gearlog.splicing.worked import cut_formula


def identity(sheet: Sheet) -> Iterator[Explained]:
    """The number that only names: which version of the method it is."""
    version = sheet.plan.method_version
    rule = Rule("version", plain(version), "the method's file")
    yield sheet.number("method_version", "version of the method", version, rule)


def fid(sheet: Sheet) -> Iterator[Explained]:
    """The fid, which most lengths stand on."""
    rule = Rule("21 * d", f"21 * {sheet.exact['d']}", COMMON_PRACTICE_LABEL, sheet.went_in("d"))
    yield sheet.length("names.fid", "fid length", float(sheet.worked.names["fid"].value), rule)


def lengths(sheet: Sheet) -> Iterator[Explained]:
    """The method's named lengths, exact and on the tape, and the rope that is used up."""
    for index, length in enumerate(sheet.plan.lengths):
        yield from _named(sheet, f"lengths[{index}]", length)
    used = sheet.plan.rope_used_m
    if used is not None:
        rule = sheet.by_formula(sheet.method.rope_used, DEFINITION)
        yield sheet.length("rope_used_m", "rope used up to the throat", used, rule)
    if sheet.plan.rope_used_tape_m is not None:
        rule = sheet.nearest_on_tape(sheet.method.rope_used)
        yield sheet.length("rope_used_tape_m", "rope used, on the tape", sheet.plan.rope_used_tape_m, rule)


def _named(sheet: Sheet, key: str, length: NamedLength) -> Iterator[Explained]:
    yield sheet.length(f"{key}.length_m", length.title, length.length_m, named_rule(sheet, length))
    if length.tape_m is None:
        return
    measured = length.formula == "measured"
    rule = sheet.typed_up_to_tape("measured", length.length_m) if measured else sheet.up_to_tape(length.formula)
    yield sheet.length(f"{key}.tape_m", f"{length.title}, on the tape", length.tape_m, rule)


def named_rule(sheet: Sheet, length: NamedLength) -> Rule:
    """How a named length comes about: by its formula, or measured by the user."""
    if length.formula == "measured":
        return Rule("measured", sheet.figures.length(length.length_m), length.source)
    return sheet.by_formula(length.formula, length.source)


def marks(sheet: Sheet) -> Iterator[Explained]:
    """Where each mark lies, exact and on the tape."""
    for index, mark in enumerate(sheet.plan.marks):
        key, title = f"marks[{index}]", f"mark {mark.letter}, {mark.name}"
        yield sheet.length(f"{key}.at_m", title, mark.at_m, sheet.by_formula(mark.formula, mark.source))
        if mark.tape_m is not None:
            rule = sheet.nearest_on_tape(mark.formula)
            yield sheet.length(f"{key}.tape_m", f"{title}, on the tape", mark.tape_m, rule)


def spans(sheet: Sheet) -> Iterator[Explained]:
    """Where each stretch of the drawing begins and ends."""
    for index, (span, rule) in enumerate(zip(sheet.plan.spans, sheet.method.spans, strict=True)):
        key, title = f"spans[{index}]", f"{span.kind} on the {span.part}"
        start, end = (sheet.by_formula(formula, DEFINITION) for formula in (rule.start, rule.end))
        yield sheet.length(f"{key}.from_m", f"{title}, begins", span.from_m, start)
        yield sheet.length(f"{key}.to_m", f"{title}, ends", span.to_m, end)


def counts(sheet: Sheet) -> Iterator[Explained]:
    """Turns and passes, rounded up."""
    for index, count in enumerate(sheet.plan.counts):
        worked = f"ceil({put_in(count.formula, sheet.exact)})"
        rule = Rule(f"ceil({count.formula})", worked, count.source, sheet.went_in(count.formula))
        yield sheet.number(f"counts[{index}].count", count.title, count.count, rule)


def tolerances(sheet: Sheet) -> Iterator[Explained]:
    """How far a measure may be off."""
    method, plan = sheet.method, sheet.plan
    for key, title, rule, found in (
        ("mark_tolerance.within_m", "how far a mark may be off", method.mark_tolerance, plan.mark_tolerance),
        ("eye_tolerance.within_m", "how far the eye may be off", method.eye_tolerance, plan.eye_tolerance),
    ):
        if found is not None:
            yield sheet.length(key, title, found.within_m, sheet.by_formula(rule.within, found.source))


def finished(sheet: Sheet) -> Iterator[Explained]:
    """The finished length from the cut length, or the reverse."""
    found = sheet.plan.finished
    if found is None:
        return
    yield from _wanted(sheet, found) if found.wanted else _from_the_rope(sheet, found)
    if sheet.plan.cut_length_m is not None:
        rule = sheet.by_formula(cut_formula(sheet.method, sheet.plan.inputs), found.source)
        yield sheet.length("cut_length_m", "length to cut", sheet.plan.cut_length_m, rule)


def _wanted(sheet: Sheet, found: Finished) -> Iterator[Explained]:
    asked = sheet.by_formula("longest" if sheet.method.shape == "sling" else "finished", TYPED)
    yield sheet.length("finished.finished_m", f"finished length, {found.what}", found.finished_m, asked)
    cut = sheet.by_formula(found.formula, found.source)
    yield sheet.length("finished.cut_m", "length to cut", found.cut_m, cut)
    if found.tape_cut_m is not None:
        rule = sheet.up_to_tape(found.formula)
        yield sheet.length("finished.tape_cut_m", "length to cut, on the tape", found.tape_cut_m, rule)


def _from_the_rope(sheet: Sheet, found: Finished) -> Iterator[Explained]:
    rule = sheet.by_formula(found.formula, found.source)
    yield sheet.length("finished.finished_m", f"finished length, {found.what}", found.finished_m, rule)
    there = Rule("rope length", sheet.figures.length(found.cut_m), TYPED)
    yield sheet.length("finished.cut_m", "length of the rope", found.cut_m, there)
    if found.tape_cut_m is not None:
        rule = sheet.typed_up_to_tape("rope length", found.cut_m)
        yield sheet.length("finished.tape_cut_m", "length of the rope, on the tape", found.tape_cut_m, rule)
