"""Why a plan's numbers are what they are: formula, values put in, what went in, and the source of each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from gearlog.domain.explained import Explained
from gearlog.domain.plan import Plan
from gearlog.tui.widgets.lines import Line, Tone, heading, paragraph
from gearlog.tui.widgets.plan_view import source_words
from gearlog.units.visible import visible

FACT_WIDTH = 10  # cells; the longest name of a fact and two spaces
SECTIONS = (
    ("finished", "The finished and the cut length"),
    ("cut_length_m", "The finished and the cut length"),
    ("marks", "The marks"),
    ("lengths", "The lengths that the marks rest on"),
    ("names", "The lengths that the marks rest on"),
    ("rope_used_m", "The lengths that the marks rest on"),
    ("counts", "Turns and passes"),
    ("pulls", "The pulls"),
    ("tucks", "The tucks"),
    ("taper", "The taper"),
    ("shortening", "The shortening"),
    ("eye", "The eye"),
    ("strength", "The strength"),
    ("fill", "Inside the standing part"),
)
"""The parts of a plan by the beginning of their keys, in the order in which a reader asks for them."""
OTHERS = "What the drawing and the tolerances rest on"
_PLACE = {name: place for place, (name, _) in enumerate(SECTIONS)}
_TITLE = dict(SECTIONS)


def why_page(plan: Plan, explained: Sequence[Explained], width: int) -> tuple[Line, ...]:
    """Every number with its formula, what went in and its source, the marks' letters as keys to them."""
    letters = {f"marks[{number}]": mark.letter for number, mark in enumerate(plan.marks)}
    ordered = sorted(worth_telling(explained), key=lambda one: _PLACE.get(_part(one), len(SECTIONS)))
    return (
        *paragraph("A mark's letter goes to it.", width, tone=Tone.MUTED),
        *(
            line
            for title, group in groupby(ordered, key=lambda one: _TITLE.get(_part(one), OTHERS))
            for line in (*heading(title), *(each for one in group for each in entry(one, letters, width)))
        ),
    )


def why_lines(plan: Plan, explained: Sequence[Explained], key: str, width: int) -> tuple[Line, ...]:
    """What explains the numbers that stand behind one key of the plan's page."""
    letters = {f"marks[{number}]": mark.letter for number, mark in enumerate(plan.marks)}
    asked = [one for one in worth_telling(explained) if _is_part(one.key, key)]
    if not asked:
        return paragraph("This number is as it was typed; nothing is worked out for it.", width)
    return tuple(line for one in asked for line in entry(one, letters, width))[1:]


def entry(one: Explained, letters: dict[str, str], width: int) -> Iterator[Line]:
    """One number: what it is and how much, then how it comes about."""
    thing, _, number = one.key.partition(".")
    letter = letters.get(thing, "") if number == "at_m" else ""
    yield Line("")
    yield Line(visible(f"{one.value}  {one.title}"), Tone.STRONG, letter or one.key)
    source = source_words(one.source, common=one.common_practice)
    for name, words in (
        ("formula", one.formula),
        ("values", one.worked if one.worked != one.formula else ""),
        *(("with" if not number else "", words) for number, words in enumerate(one.inputs)),
        ("source", source),
    ):
        if words:
            yield from paragraph(words, width, first="  " + name.ljust(FACT_WIDTH - 2))


def worth_telling(explained: Sequence[Explained]) -> tuple[Explained, ...]:
    """All but what says the same number twice: a place on the tape that is the exact one."""
    exact = {one.key.rpartition(".")[0]: one.number for one in explained if one.key.endswith((".at_m", ".length_m"))}
    return tuple(
        one
        for one in explained
        if not one.key.endswith(".tape_m") or one.number != exact.get(one.key.rpartition(".")[0])
    )


def _part(one: Explained) -> str:
    return one.key.partition(".")[0].partition("[")[0]


def _is_part(key: str, of: str) -> bool:
    return key == of or key.startswith((f"{of}.", f"{of}["))
