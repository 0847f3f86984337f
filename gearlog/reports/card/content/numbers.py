"""The numbers to work by: marks, taper, pulls, tucks, turns; each in a table with room for what was measured."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.picture.labels import origin_words
from gearlog.domain.picture.parts import ALIKE
from gearlog.domain.plan import Mark, Plan
from gearlog.reports.card.content.sections import Column, Facts, Grid
from gearlog.reports.words import COMMON_PRACTICE, UNKNOWN, Tape, percent

NO_TOOL = "not named"


def marks_grid(plan: Plan, tape: Tape) -> Grid:
    """A row a mark: a box, its letter, where, room for the measured value, what to do, source."""
    columns = (
        Column("", 4, "tick"),
        Column("mark", 6, "strong"),
        Column("on", 8),
        Column("planned", 13, "number"),
        Column("measured", 15, "blank"),
        Column("what, and what to do", 54),
    )
    rows = tuple(("", mark.letter, mark.part, tape.length(mark.shown_m), "", _what(mark)) for mark in plan.marks)
    return Grid(f"Marks, from {origin_words(plan)}", columns, rows, note=_marks_note(plan))


def _marks_note(plan: Plan) -> str:
    both = "The marks hold for both ropes. " if plan.shape == "join" else ""
    common = (
        f"* {COMMON_PRACTICE}: compare with the rope maker's sheet before cutting."
        if any(mark.common_practice for mark in plan.marks)
        else ""
    )
    return f"{both}{common}".strip()


def _what(mark: Mark) -> str:
    common = " *" if mark.common_practice else ""
    return f"{mark.name}: {mark.do}{common}" if mark.do else f"{mark.name}{common}"


def taper_grid(plan: Plan, tape: Tape) -> Grid:
    """A row a cut: a box, its number, where, what is left after it."""
    picked = any(step.picks is not None for step in plan.taper)
    columns = (
        Column("", 8, "tick"),
        Column("cut", 10, "strong"),
        Column("on", 18),
        Column("at", 24, "number"),
        *([Column("picks", 14, "number")] if picked else []),
        Column("strands left", 20, "number"),
        Column("section left", 20, "number"),
    )
    rows = tuple(
        ("", str(number), step.part, tape.length(step.shown_m), *([str(step.picks)] if picked else []),
         str(step.strands_left), percent(step.fraction_left))
        for number, step in enumerate(plan.taper, 1)
    )  # fmt: skip
    alike = "The other end is tapered alike, measured from that end." if plan.shape in ALIKE else ""
    return Grid(f"Taper, from {origin_words(plan)}", columns, rows, note=alike, narrow=True)


def pulls_grid(plan: Plan, tape: Tape) -> Grid:
    """A row a pull: in, out, how far, with what."""
    columns = (
        Column("", 8, "tick"),
        Column("pull", 10, "strong"),
        Column("on", 16),
        Column("in at", 20, "number"),
        Column("out at", 20, "number"),
        Column("long", 18, "number"),
        Column("tool", 26),
    )
    rows = tuple(
        ("", str(pull.stage), pull.part, tape.length(pull.shown_from_m), tape.length(pull.shown_to_m),
         tape.length(pull.shown_length_m), pull.tool or NO_TOOL)
        for pull in plan.pulls
    )  # fmt: skip
    return Grid("Pulls", columns, rows, narrow=True)


def counted_facts(plan: Plan, tape: Tape) -> Facts:
    """Tucks of laid rope, turns and passes of twine."""
    return Facts("Tucks and turns", (*_tucks(plan, tape), *_counts(plan)))


def _counts(plan: Plan) -> Iterator[tuple[str, str]]:
    for count in plan.counts:
        yield count.title, f"{count.count}; {count.formula}, {count.source or UNKNOWN}"


def _tucks(plan: Plan, tape: Tape) -> Iterator[tuple[str, str]]:
    tucks = plan.tucks
    if tucks is None:
        return
    sides = f", {tucks.count // tucks.sides} on each side" if tucks.sides > 1 else ""
    yield "full tucks", f"{tucks.count}{sides}; {tucks.source or UNKNOWN}"
    if tucks.tapered:
        yield "tapered tucks", f"{tucks.tapered} more; {tucks.tapered_source or UNKNOWN}"
    yield "one full tuck", f"{tape.length(tucks.tuck_m)} along the rope"
    yield "unlay", f"{tape.length(tucks.unlay_m)}; {tucks.unlay_source or UNKNOWN}"
    yield "tail beyond the last tuck", f"{tape.length(tucks.tail_m)}; {tucks.tail_source or UNKNOWN}"
