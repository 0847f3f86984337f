"""Two ropes side by side as lines: what differs first, then every fact in two columns, then what the diary knows.

Their names are lines of their own, for they stay in view while the page is scrolled.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from itertools import zip_longest

from gearlog.domain.ropes_compared import MadeBefore, RopesCompared, RopeSide
from gearlog.domain.settings import Settings
from gearlog.domain.vocabulary import Unit
from gearlog.reports.plain_compared import difference_lines
from gearlog.reports.words import Tape
from gearlog.tui.widgets.lines import GAP, Line, Tone, heading, padded, paragraph
from gearlog.tui.widgets.plan_figures import UNKNOWN
from gearlog.units import showing
from gearlog.units.visible import visible

NAMES = 16  # cells of the first column; the longest name of a fact
DIFFERENCE = "Difference, "
FIRST, SECOND = "the first", "the second"  # ropes that bear no tag
ITEM = "- "  # begins a paragraph of a list; its further lines are set in
Fact = tuple[str, Sequence[str], Sequence[str]]
"""A name, and for each rope what is said of it, a paragraph each."""


def compare_page(both: RopesCompared, settings: Settings, carrying: Container[str], width: int) -> tuple[Line, ...]:
    """The whole comparison for a width in cells; ``carrying`` are the methods that make more than a finish."""
    imperial = settings.unit is Unit.IMPERIAL
    names = (both.first.tag or FIRST, both.second.tag or SECOND)
    differences = [line.removeprefix(DIFFERENCE) for line in difference_lines(both, imperial=imperial, names=names)]
    return (
        *heading("What differs"),
        *(line for words in differences for line in paragraph(words, width, first="- ")),
        *heading("Side by side"),
        *(line for fact in _facts(both, Tape(imperial, settings.tape_parts)) for line in _row(fact, width)),
        *_row(("can be spliced", _splices(both.first, carrying), _splices(both.second, carrying)), width),
        *heading("Last results in the diary"),
        *_row(("", _made(both.first), _made(both.second)), width),
    )


def names_lines(both: RopesCompared, width: int) -> tuple[Line, ...]:
    """What each of the two columns is about, for the same width."""
    return tuple(_row(("", _names(both.first), _names(both.second)), width, Tone.HEAD))


def _names(side: RopeSide) -> Sequence[str]:
    return (side.name, side.tag or "not in the log")


def _row(fact: Fact, width: int, tone: Tone = Tone.PLAIN) -> Iterator[Line]:
    """One fact: its name, and both ropes beside one another, each folded in its own column."""
    name, *sides = fact
    room = (width - NAMES - 2 * GAP) // 2
    columns = [[line for words in side for line in _in_column(words, room)] for side in sides]
    gap = " " * GAP
    for number, cells in enumerate(zip_longest(*columns, fillvalue="")):
        first = padded(name if number == 0 else "", NAMES)
        yield Line(gap.join((first, padded(cells[0], room), cells[1])).rstrip(), tone)


def _in_column(words: str, room: int) -> Iterator[str]:
    first = ITEM if words.startswith(ITEM) else ""
    yield from (line.text for line in paragraph(words.removeprefix(first), room, first=first))


def _facts(both: RopesCompared, tape: Tape) -> Iterator[Fact]:
    for name, say in (
        ("construction", _construction),
        ("fibre", _fibre),
        ("diameter", lambda side, tape: (tape.diameter(side.diameter_m),)),
        ("mass aloft", _mass),
        ("strength", lambda side, tape: (f"breaks at {tape.force(side.mbs_n)}",)),
        ("elongation", _elongation),
        ("carries the load", lambda side, tape: (side.load_bearing, side.load_words)),
        ("damage", lambda side, tape: (side.damage_words,)),
    ):
        yield name, say(both.first, tape), say(both.second, tape)


def _construction(side: RopeSide, tape: Tape) -> Sequence[str]:
    del tape
    return (visible(side.construction) + (f", {side.strands} strands" if side.strands else ""),)


def _fibre(side: RopeSide, tape: Tape) -> Sequence[str]:
    del tape
    return ((side.fibre or UNKNOWN) + (f" over {side.core_fibre}" if side.core_fibre else ""),)


def _mass(side: RopeSide, tape: Tape) -> Sequence[str]:
    """What hangs above at each length climbed on, and how that is known."""
    imperial = tape.imperial
    if side.mass.kg_per_m is None:
        return (f"{UNKNOWN}: {side.mass.why}",)
    aloft = [
        f"{showing.mass(one.mass_kg or 0.0, imperial=imperial)} at "
        f"{showing.rope_length(one.length_m, imperial=imperial)}"
        for one in side.carried
    ]
    each = showing.linear_mass(side.mass.kg_per_m, imperial=imperial)
    return (*aloft, f"{each}, {side.mass.source}")


def _elongation(side: RopeSide, tape: Tape) -> Sequence[str]:
    if side.elongation_percent is None:
        return (UNKNOWN,)
    at = f" at {tape.force(side.elongation_at_n)}" if side.elongation_at_n is not None else ", load not stated"
    return (f"{side.elongation_percent:g} %{at}",)


def _splices(side: RopeSide, carrying: Container[str]) -> Sequence[str]:
    listed = [f"{ITEM}{one.title}" for one in side.splices if one.method in carrying]
    return (*([side.instead] if side.instead else []), *listed) or ("nothing",)


def _made(side: RopeSide) -> Sequence[str]:
    if not side.made:
        return ("nothing like it was spliced yet",)
    return (f"{side.made} in it or in ropes like it, {side.good} good", *(_one(made) for made in side.last))


def _one(made: MadeBefore) -> str:
    minutes = f", {made.minutes} min" if made.minutes is not None else ""
    return f"{made.made_on} {made.method}: {made.outcome}{minutes} ({made.rope or 'a rope no longer in the log'})"
