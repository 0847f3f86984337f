"""Why a plan's numbers are what they are: formula, values put in, what went in, and the source of each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from msgspec.structs import replace

from gearlog.domain.explained import Explained
from gearlog.domain.plan import Plan
from gearlog.tui.widgets.lines import Line, Tone, heading, keyed, paragraph
from gearlog.tui.widgets.plan_view import source_words

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
EXACT, TAPE = (".at_m", ".length_m"), ".tape_m"
"""How the keys of a place or length end, and that of the same on the user's tape."""
MILLIMETRES = 1000  # in a metre
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


def why_lines(explained: Sequence[Explained], key: str, width: int) -> tuple[Line, ...]:
    """What explains the numbers that stand behind one key of the plan's page."""
    asked = [one for one in worth_telling(explained) if _is_part(one.key, key)]
    if not asked:
        return paragraph("This number is as it was typed; nothing is worked out for it.", width)
    return tuple(line for one in asked for line in entry(one, {}, width))[1:]


def entry(one: Explained, letters: dict[str, str], width: int) -> Iterator[Line]:
    """One number: what it is and how much, then how it comes about; the first of a mark takes its letter as key."""
    thing = one.key.partition(".")[0]
    yield Line("")
    title = paragraph(f"{one.value}  {one.title}", width, tone=Tone.STRONG)
    yield from keyed(title, letters.pop(thing, one.key))
    source = source_words(one.source, common=one.common_practice)
    for name, words in (
        ("formula", one.formula),
        ("values", one.worked if one.worked != one.formula else ""),
        *(("with" if not number else "", words) for number, words in enumerate(one.inputs)),
        ("source", source),
    ):
        if words:
            yield from paragraph(words, width, first="  " + name.ljust(FACT_WIDTH - 2))


def worth_telling(explained: Sequence[Explained]) -> Iterator[Explained]:
    """What people read on the tape before the exact number behind it; one that is the same is told once."""
    on_tape = {_thing(one): one for one in explained if one.key.endswith(TAPE)}
    for one in explained:
        tape = on_tape.get(_thing(one)) if one.key.endswith(EXACT) else None
        if one.key.endswith(TAPE):
            continue
        if tape is None or tape.number == one.number:
            yield one
        else:
            yield tape
            yield replace(one, title=f"{one.title}, exactly {one.number * MILLIMETRES:.1f} mm")


def _thing(one: Explained) -> str:
    return one.key.rpartition(".")[0]


def _part(one: Explained) -> str:
    return one.key.partition(".")[0].partition("[")[0]


def _is_part(key: str, of: str) -> bool:
    return key == of or key.startswith((f"{of}.", f"{of}["))
