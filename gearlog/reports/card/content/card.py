"""A plan as a card: what stands on it, in which order. A plan that stops gives no number to cut by."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from gearlog.domain.plan import Check, Plan
from gearlog.reports.card.content.numbers import counted_facts, marks_grid, pulls_grid, taper_grid
from gearlog.reports.card.content.rope import work_facts
from gearlog.reports.card.content.sections import Card, Facts, Grid, Lines, Picture, Section, Signing
from gearlog.reports.card.content.sources import sources_lines
from gearlog.reports.card.content.strength import chain_grid, strength_facts
from gearlog.reports.card.vector.drawing import drawing_of
from gearlog.reports.card.vector.figure import Figure
from gearlog.reports.card.vector.filling import filling
from gearlog.reports.words import LEVEL_WORDS, Tape, plural

HEAD = "Bench card"
OWN = "The user's own method, experimental: break tests before life support."
CARRIES_NOTHING = frozenset({"end", "finish"})
NOTE = "note"
NO_LOAD = "This keeps an end or a throat together and carries no load."
FOOT = "Numbers from general practice and from what was typed; the rope maker's instructions come first."


@dataclass(frozen=True, slots=True)
class Signed:
    """What is known of who made the splice; empty stays a line to write on."""

    made_on: str = ""
    made_by: str = ""
    checked_by: str = ""


def card_of(plan: Plan, drawing_mm: float, signed: Signed) -> Card:
    """The card, its drawing ``drawing_mm`` wide."""
    tape = Tape.of(plan.inputs)
    stops = tuple(check.message for check in plan.checks if check.level == "stop")
    sections = _stopped(plan, tape) if plan.stopped else _whole(plan, tape, drawing_mm, signed)
    own = ", the user's own" if plan.own else ""
    head = f"{HEAD}: method {plan.method}, version {plan.method_version}{own}"
    return Card(head, plan.method_title, _lead(plan, tape), stops, tuple(filter(_says, sections)), FOOT)


def _lead(plan: Plan, tape: Tape) -> str:
    rope = plan.inputs.rope
    named = rope.name or "rope not named"
    end = f", end {plan.inputs.end}" if plan.inputs.end else ""
    return f"{named}{end}, {tape.diameter(rope.diameter_m)}"


def _says(section: Section) -> bool:
    """Whether there is anything in it."""
    if isinstance(section, Facts | Grid):
        return bool(section.rows)
    return not isinstance(section, Lines) or bool(section.items)


def _stopped(plan: Plan, tape: Tape) -> Iterator[Section]:
    yield checks_lines(plan)
    yield work_facts(plan, tape)
    yield Lines("Cautions", plan.cautions)


def _whole(plan: Plan, tape: Tape, drawing_mm: float, signed: Signed) -> Iterator[Section]:
    """To measure and mark by on the front, to work by on the back; what is only to be known stands after the work."""
    yield warnings_lines(plan)
    yield work_facts(plan, tape)
    yield from _pictures("Drawing", drawing_of(plan, drawing_mm))
    yield marks_grid(plan, tape)
    yield taper_grid(plan, tape)
    yield pulls_grid(plan, tape)
    yield counted_facts(plan, tape)
    yield from _pictures("Filling", filling(plan, drawing_mm))
    yield Lines("Steps", plan.steps, ticked=True)
    if plan.shape in CARRIES_NOTHING:
        yield Lines("Strength", (NO_LOAD,))
    else:
        yield strength_facts(plan, tape)
        yield chain_grid(plan, tape)
    yield sources_lines(plan, tape)
    own = (OWN,) if plan.own else ()
    yield Lines("Notes and cautions", (*notes_of(plan), *own, *plan.cautions))
    yield _signing(signed)


def _pictures(title: str, figure: Figure | None) -> Iterator[Picture]:
    if figure is not None:
        yield Picture(title, figure)


def checks_lines(plan: Plan) -> Lines:
    """The checks, the gravest first, each with its source."""
    ranked = sorted(plan.checks, key=lambda check: list(LEVEL_WORDS).index(check.level))
    return Lines("Checks", tuple(_check(check) for check in ranked))


def warnings_lines(plan: Plan) -> Lines:
    """What warns, and how many notes stand further down."""
    warned = tuple(_check(check) for check in plan.checks if check.level != NOTE)
    count = len(plan.checks) - len(warned)
    notes = f"{plural(count, 'note')} before the cautions." if count else "Nothing was noted."
    return Lines("Checks", warned or (f"Nothing stops or warns; {notes[:1].lower()}{notes[1:]}",))


def notes_of(plan: Plan) -> tuple[str, ...]:
    """What is to be known beside it."""
    return tuple(_check(check) for check in plan.checks if check.level == NOTE)


def _check(check: Check) -> str:
    source = f" ({check.source})" if check.source else ""
    return f"{LEVEL_WORDS[check.level]}: {check.message}{source}"


def _signing(signed: Signed) -> Signing:
    fields = (
        ("finished eye or length, measured", ""),
        ("date", signed.made_on),
        ("made by", signed.made_by),
        ("checked by", signed.checked_by),
    )
    return Signing("Made and checked", fields)
