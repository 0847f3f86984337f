"""A rope drawn along its length from end A to end B in characters, to scale, with what lies on it.

Three lines: the numbers of what lies on the rope, the rope, a ruler. A place is drawn in the column whose stretch of
rope it lies in; of signs that would share a column the gravest is shown, and every thing keeps its number.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

import msgspec

from gearlog.domain.vocabulary import End, EndState
from gearlog.units import convert, showing

LEAST_WIDTH = 20  # cells; a narrower drawing tells nothing
ROPE, BURY, CUT_OFF = "-", "=", "~/"
STEPS = (1, 2, 5)  # times a power of ten: rulers that people read
TICK_ROOM = 8  # cells that one number of the ruler wants
_LEFT = {EndState.SPLICED: "(", EndState.KNOTTED: "@", EndState.SEWN: "%", EndState.WHIPPED: "#", EndState.BARE: "|"}
_RIGHT = _LEFT | {EndState.SPLICED: ")"}

Length = float | Fraction


class Thing(msgspec.Struct, frozen=True, kw_only=True):
    """Something that lies on the rope.

    Attributes:
        start: its beginning, distance from end A (m); ``stop`` its end, the same for a point.
        sign: the one character that it is drawn with.
        weight: the greater wins where two share a column.
        number: what stands above it and before its words below, or empty for what needs none.
    """

    start: Length
    stop: Length
    sign: str
    weight: int = 0
    number: str = ""


class Ends(msgspec.Struct, frozen=True):
    """How the two ends are finished, and from which of them something was cut off."""

    states: Mapping[End, EndState]
    cut: frozenset[End] = frozenset()


def rope_lines(
    length_m: Length, ends: Ends, things: Sequence[Thing], width: int, *, imperial: bool = False
) -> tuple[str, ...]:
    """The drawing in ``width`` cells; empty for a rope of no length or without room."""
    room = width - 2 * (len(CUT_OFF) + 1)
    if length_m <= 0 or room < LEAST_WIDTH:
        return ()
    indent = " " * (len(CUT_OFF) + 1)
    return (
        (indent + _numbers(length_m, things, room)).rstrip(),
        _outside(End.A, ends) + _body(length_m, things, room) + _outside(End.B, ends),
        (indent + _ruler(length_m, room, imperial=imperial)).rstrip(),
    )


def column(at: Length, length_m: Length, room: int) -> int:
    """The column of ``room`` in which a place lies; end B lies in the last one."""
    return min(max(int(Fraction(at) * room / Fraction(length_m)), 0), room - 1)


def _outside(end: End, ends: Ends) -> str:
    sign = (_LEFT if end is End.A else _RIGHT)[ends.states.get(end, EndState.BARE)]
    cut = CUT_OFF if end in ends.cut else " " * len(CUT_OFF)
    return cut + sign if end is End.A else sign + cut[::-1]


def _body(length_m: Length, things: Sequence[Thing], room: int) -> str:
    signs = [ROPE] * room
    for thing in sorted(things, key=lambda thing: thing.weight):
        for place in range(column(thing.start, length_m, room), column(thing.stop, length_m, room) + 1):
            signs[place] = thing.sign
    return "".join(signs)


def _numbers(length_m: Length, things: Sequence[Thing], room: int) -> str:
    """Each number over its beginning, or as near to the right of it as there is room."""
    line = ""
    for thing in sorted((one for one in things if one.number), key=lambda one: Fraction(one.start)):
        at = max(column(thing.start, length_m, room), len(line) + bool(line))
        line = line.ljust(at) + thing.number
    return line if len(line) <= room else _pushed_left(line, room)


def _pushed_left(line: str, room: int) -> str:
    """Numbers that ran out on the right, closed up from there; what cannot be told apart gives way to dots."""
    numbers = line.split()
    while numbers and len(" ".join(numbers)) > room:
        numbers = [*numbers[:-2], "…"] if len(numbers) > 1 else []
    spare = room - len(" ".join(numbers))
    lead = min(len(line) - len(line.lstrip()), spare)
    return (" " * lead + " ".join(numbers))[:room] if spare > lead else " ".join(numbers).rjust(room)


def _ruler(length_m: Length, room: int, *, imperial: bool) -> str:
    """``A 0`` on the left, round numbers between, end B with the whole length on the right."""
    last = f"{showing.rope_length(length_m, imperial=imperial)} B"
    line = "A 0"
    for at_m, words in _ticks(length_m, room, imperial=imperial):
        at = column(at_m, length_m, room)
        if at > len(line) + 1 and at + len(words) < room - len(last):
            line = line.ljust(at) + words
    return line.ljust(room - len(last)) + last


def _ticks(length_m: Length, room: int, *, imperial: bool) -> Iterator[tuple[Fraction, str]]:
    unit = "ft" if imperial else "m"
    whole = convert.from_si(length_m, unit)
    step = _round_step(whole * TICK_ROOM / room)
    place = step
    while place < whole:
        yield convert.to_si(place, unit), f"{float(place):g}"
        place += step


def _round_step(least: Fraction) -> Fraction:
    """The smallest round number that is at least ``least``."""
    power = Fraction(1)
    while power * STEPS[-1] < least:
        power *= 10
    while power > least:
        power /= 10
    return next(step for step in (power * factor for factor in (*STEPS, 10)) if step >= least)
