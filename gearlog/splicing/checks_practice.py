"""The note that names every number of a plan that is common practice: whoever cuts by it knows which to compare."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.plan import Check
from gearlog.splicing.draft import Draft, found
from gearlog.splicing.formula import names_in
from gearlog.splicing.method import COMMON_PRACTICE, COMMON_PRACTICE_LABEL, Method
from gearlog.splicing.wording import placeholders
from gearlog.splicing.worked import Worked, applies

LIMIT_WORDS = {
    "eye_over_pin": "eye over pin",
    "throat_angle_deg": "angle at the throat",
    "pin_over_rope": "pin over rope",
    "eye_over_rope": "eye over rope",
    "clear_over_rope": "clear rope between splices",
    "tool_over_rope": "thickness of the tool",
}
"""Limits of a method in the words of the note."""


def common_practice(draft: Draft) -> Iterator[Check]:
    """One note with every number that stands on common practice alone."""
    names = list(dict.fromkeys(practised(draft.worked)))
    if names:
        message = (
            f"Common practice, unconfirmed: {', '.join(names)}. Compare with the rope maker's sheet before cutting."
        )
        yield found("note", "common-practice", message, COMMON_PRACTICE_LABEL)


def practised(worked: Worked) -> Iterator[str]:
    """What is common practice in a worked method, in words."""
    method = worked.method
    yield from (length.title for length in worked.lengths if length.common_practice)
    if _uses_fid(worked):
        yield "fid length of 21 d"
    yield from (count.title for count in method.counts if COMMON_PRACTICE in count.source)
    yield from _of_the_work(method)
    if worked.shortening is not None and COMMON_PRACTICE_LABEL in worked.shortening.source:
        yield "braid angle and swelling"
    yield from _of_the_sums(worked)
    yield from (
        words for name, words in LIMIT_WORDS.items() if COMMON_PRACTICE in getattr(method.limits, f"{name}_source")
    )
    if method.carries and worked.inputs.design_factor is None:
        yield "design factor"


def _of_the_work(method: Method) -> Iterator[str]:
    if any(COMMON_PRACTICE in mark.source for mark in method.marks):
        yield "the order of the marks"
    if method.taper and COMMON_PRACTICE in method.taper.source:
        yield "strands left in the taper"
    if any(COMMON_PRACTICE in pull.source for pull in method.pulls):
        yield "the pulls"
    if method.fill and COMMON_PRACTICE in method.fill.source:
        yield "the most that lies inside"
    if COMMON_PRACTICE in (method.mark_tolerance.source + method.eye_tolerance.source):
        yield "how far a measure may be off"


def _of_the_sums(worked: Worked) -> Iterator[str]:
    method = worked.method
    if method.finished and COMMON_PRACTICE in method.finished.source and "cut" in worked.names:
        yield "the sum of finished and cut length"
    if any(COMMON_PRACTICE in bound.source for bound in method.bounds):
        yield "room between the splices"
    if any(COMMON_PRACTICE in count.source for count in (method.tucks.counts if method.tucks else ())):
        yield "full tucks"


def _uses_fid(worked: Worked) -> bool:
    """Whether any length, mark or step of this plan stands on the fid."""
    formulas = [length.formula for length in worked.lengths] + [mark.at for mark in worked.method.marks]
    steps = (step for step in worked.method.steps if applies(step.when, worked.inputs))
    named = {name for step in steps for name in placeholders(step.text)}
    return bool({"fid", "five_fids"} & named) or any("fid" in names_in(text) for text in formulas)
