"""Where every number comes from: under each source the numbers that rest on it, and how they were worked out."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.plan import Plan
from gearlog.reports.card.content.sections import Lines
from gearlog.reports.words import Tape, sourced

Number = tuple[str, str]  # source, and the number with its working


def sources_lines(plan: Plan, tape: Tape) -> Lines:
    """A paragraph for each source."""
    resting: dict[str, list[str]] = {}
    for source, number in (*_lengths(plan, tape), *_marks(plan, tape), *_whole(plan, tape)):
        resting.setdefault(source, []).append(number)
    items = tuple(f"{source}: {'; '.join(numbers)}." for source, numbers in resting.items())
    return Lines("Where the numbers come from", items)


def _lengths(plan: Plan, tape: Tape) -> Iterator[Number]:
    for length in plan.lengths:
        value = tape.exact(length.length_m, length.tape_m)
        name = length.name if length.name == length.title else f"{length.name} ({length.title})"
        how = _worked(length.formula, length.worked)
        yield sourced(length.source, common=length.common_practice), f"{name} {value} = {how}"


def _marks(plan: Plan, tape: Tape) -> Iterator[Number]:
    for mark in plan.marks:
        value = tape.exact(mark.at_m, mark.shown_m)
        how = _worked(mark.formula, mark.worked)
        yield sourced(mark.source, common=mark.common_practice), f"mark {mark.letter} {value} = {how}"


def _whole(plan: Plan, tape: Tape) -> Iterator[Number]:
    finished, shortening = plan.finished, plan.shortening
    if finished is not None:
        value = tape.exact(finished.cut_m, finished.shown_cut_m)
        yield finished.source, f"cut and finished length {value}, {_worked(finished.formula, finished.worked)}"
    if shortening is not None:
        how = f"braid angle {shortening.braid_angle_deg:g} degrees, mean diameter x {shortening.swelling:.4g}"
        yield shortening.source, f"shortening {tape.exact(shortening.length_m)}, {how}"


def _worked(formula: str, worked: str) -> str:
    return formula if formula == worked else f"{formula} = {worked}"
