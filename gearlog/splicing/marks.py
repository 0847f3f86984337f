"""Marks and stretches along the rope, from the method's formulas."""

from __future__ import annotations

import string

from gearlog.domain.plan import Mark, Span
from gearlog.splicing.method import COMMON_PRACTICE
from gearlog.splicing.rules import MarkRule
from gearlog.splicing.wording import filled
from gearlog.splicing.worked import Worked


def marks_of(worked: Worked) -> tuple[Mark, ...]:
    """The marks in order from the working end, lettered a, b, c."""
    rules = sorted(worked.method.marks, key=lambda rule: worked.length_m(rule.at))
    letters = {f"mark_{rule.id}": f"mark {_letter(index)}" for index, rule in enumerate(rules)}
    return tuple(_mark(worked, rule, letters) for rule in rules)


def spans_of(worked: Worked) -> tuple[Span, ...]:
    """The stretches that the drawing shows."""
    return tuple(
        Span(
            kind=rule.kind,
            part=rule.part,
            from_m=worked.length_m(rule.start),
            to_m=worked.length_m(rule.end),
        )
        for rule in worked.method.spans
    )


def reach_m(worked: Worked) -> float:
    """How much rope from the working end the splice takes up, in m."""
    ends = [worked.length_m(rule.at) for rule in worked.method.marks]
    ends += [worked.length_m(rule.end) for rule in worked.method.spans]
    return max(ends, default=0.0)


def _mark(worked: Worked, rule: MarkRule, letters: dict[str, str]) -> Mark:
    return Mark(
        id=rule.id,
        letter=letters[f"mark_{rule.id}"].removeprefix("mark "),
        part=rule.part,
        name=rule.name,
        at_m=worked.length_m(rule.at),
        do=filled(rule.do, letters),
        formula=rule.at,
        worked=worked.with_values(rule.at),
        source=worked.method.source_text(rule.source),
        common_practice=COMMON_PRACTICE in rule.source,
        tape_m=worked.tape_m(rule.at),
    )


def _letter(index: int) -> str:
    letters = string.ascii_lowercase
    return letters[index] if index < len(letters) else f"{letters[index % 26]}{index // 26}"
