"""What a measure at the bench means, in words, while it can still be mended."""

from __future__ import annotations

import re
from collections.abc import Iterator

from gearlog.domain.bench import BenchStand
from gearlog.domain.plan import Mark, Plan, Tolerance
from gearlog.domain.vocabulary import Unit
from gearlog.errors import Fault, InvalidRecordError, ReadingError
from gearlog.reports.words import Tape
from gearlog.services.bench_views import Measurable, Verdict
from gearlog.services.reading_forms import BLANKS, fault_of
from gearlog.units.measure import Length

EYE = "eye"
"""What to hand to ``measure`` for the finished eye."""
EYE_NAME = "finished eye"
HAIR_M = 1e-9  # rounding; a measure on the very edge of the tolerance is within it
_BARE_NUMBER = re.compile(r"[0-9][0-9 ./-]*", re.ASCII)


def read_measure(what: str, text: str, plan: Plan) -> Length:
    """What was typed; a number without a unit is in that of the plan's tape. Raises InvalidRecordError."""
    typed = text.strip(BLANKS)
    if _BARE_NUMBER.fullmatch(typed):
        typed += " in" if plan.inputs.unit is Unit.IMPERIAL else " mm"
    try:
        return Length.read(typed, zero=what != EYE)
    except ReadingError as error:
        raise InvalidRecordError((fault_of(what, error),)) from error


def verdict_of(what: str, measured: Length, plan: Plan) -> Verdict:
    """The measure against the plan; raises InvalidRecordError where the plan has no such mark or no eye."""
    name, planned_m, tolerance = _planned(what, plan)
    off = measured.si - planned_m
    within = None if tolerance is None else abs(off) <= tolerance.within_m + HAIR_M
    return Verdict(
        what=what,
        name=name,
        planned_m=planned_m,
        measured=measured,
        difference_m=off,
        within=within,
        words=" ".join(_words(off, tolerance, Tape.of(plan.inputs), _said(what, name, measured, planned_m, plan))),
        source=tolerance.source if tolerance else "",
    )


def measurable(stand: BenchStand, plan: Plan, marks: tuple[Mark, ...]) -> tuple[Measurable, ...]:
    """``marks``, then the finished eye where the plan has one, each with its verdict so far."""
    known = {one.mark: one.at for one in stand.measured}
    if stand.finished_eye is not None:
        known[EYE] = stand.finished_eye
    wanted = [mark.id for mark in marks] + ([EYE] if plan.inputs.eye_m is not None else [])
    return tuple(_measurable(what, known.get(what), plan) for what in wanted)


def _measurable(what: str, measured: Length | None, plan: Plan) -> Measurable:
    name, planned_m, _ = _planned(what, plan)
    return Measurable(what, name, planned_m, None if measured is None else verdict_of(what, measured, plan))


def _planned(what: str, plan: Plan) -> tuple[str, float, Tolerance | None]:
    if what == EYE:
        if plan.inputs.eye_m is None:
            raise InvalidRecordError((Fault(EYE, "is not part of this splice", "measure one of its marks"),))
        return EYE_NAME, plan.inputs.eye_m, plan.eye_tolerance
    mark = next((mark for mark in plan.marks if mark.id == what), None)
    if mark is None:
        letters = ", ".join(mark.id for mark in plan.marks) or "none"
        raise InvalidRecordError((Fault(what, "is not a mark of this plan", f"measure one of: {letters}"),))
    return f"{mark.letter}, {mark.name}", mark.shown_m, plan.mark_tolerance


def _said(what: str, name: str, measured: Length, planned_m: float, plan: Plan) -> str:
    tape = Tape.of(plan.inputs)
    where = EYE_NAME if what == EYE else f"mark {name}"
    return f"{where}: {measured}, planned {tape.length(planned_m)},"


def _words(off: float, tolerance: Tolerance | None, tape: Tape, said: str) -> Iterator[str]:
    difference = f"{tape.length(abs(off))} {'long' if off > 0 else 'short'}"
    if abs(off) <= HAIR_M:
        difference = "just as planned"
    if tolerance is None:
        yield f"{said} {difference}; the method states no tolerance."
        return
    limit = f"the {tape.length(tolerance.within_m)} that the method allows"
    if abs(off) <= tolerance.within_m + HAIR_M:
        yield f"{said} {difference}: within {limit}."
        return
    yield f"{said} {difference}: more than {limit}."
    yield tolerance.if_long if off > 0 else tolerance.if_short
