"""Small pictures in plain characters: one row a splice or test, its words beside it, to scale, oldest first.

Rows stand for single cases, because most ropes have a handful; of more than fit the newest are drawn, and it is said.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import LoadKind, StrengthTest
from gearlog.domain.vocabulary import label
from gearlog.reports.words import Tape, percent, plural

WIDTH = 80  # columns
MOST_ROWS = 16  # with heading and sum they fill no more than a screen of 24
DATE_WIDTH = 12
HERE, ZERO, BAR, LIMIT, BROKE, HELD = "*", "|", "#", "|", "X", ">"


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture.

    Attributes:
        title: what is drawn, with its unit.
        lines: the rows, none wider than asked for; empty where there is nothing to draw.
        words: what the picture shows in a sentence, for who does not look.
    """

    title: str
    lines: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class Loaded:
    """A test with the breaking strength that the rope's maker states (N), None where unknown."""

    test: StrengthTest
    mbs_n: float | None


def eye_picture(splices: Sequence[Splice], tape: Tape, width: int = WIDTH) -> Picture:
    """How far each finished eye was off what was marked out, over time; left is too short."""
    off = [(splice.made_on.text, _off(splice)) for splice in _by_date(splices)]
    known = [(day, metres) for day, metres in off if metres is not None]
    title = "Finished eye less marked eye: short on the left, long on the right"
    if not known:
        return Picture(title, (), "No finished eye was measured against a plan.")
    rows = [(day.ljust(DATE_WIDTH) + tape.longer(metres), metres) for day, metres in known[-MOST_ROWS:]]
    told = max(len(words) for words, _ in rows) + 2
    half = max((width - told - 1) // 2, 1)
    most = max(abs(metres) for _, metres in rows) or 1.0
    lines = [words.ljust(told) + _around_zero(round(metres / most * half), half) for words, metres in rows]
    return Picture(title, (*_earlier(known), *lines), _eye_words([metres for _, metres in known], splices, tape))


def minutes_picture(splices: Sequence[Splice], width: int = WIDTH) -> Picture:
    """How long each splice took, over time."""
    known = [(splice.made_on.text, splice.minutes) for splice in _by_date(splices) if splice.minutes is not None]
    title = "Minutes at each splice"
    if not known:
        return Picture(title, (), "No time was written down.")
    minutes = [taken for _, taken in known]
    most = max(minutes[-MOST_ROWS:]) or 1
    digits = len(str(most))
    told = DATE_WIDTH + digits + len(" min  ")
    rows = [
        f"{day:<{DATE_WIDTH}}{taken:>{digits}} min  {BAR * round(taken / most * (width - told))}".rstrip()
        for day, taken in known[-MOST_ROWS:]
    ]
    words = f"{plural(len(known), 'splice')} timed, median {median(minutes):g} minutes"
    return Picture(title, (*_earlier(known), *rows), f"{words}, {min(minutes)} to {max(minutes)}.")


def strength_picture(loaded: Sequence[Loaded], tape: Tape, width: int = WIDTH) -> Picture:
    """Every test as a bar up to its force, the rope's stated strength as a line where it is known."""
    title = f"Tests of strength: {BROKE} broke, {HELD} held; {LIMIT} is the rope's stated strength"
    if not loaded:
        return Picture(title, (), "Nothing was tested.")
    ordered = sorted(loaded, key=lambda one: (one.test.tested_on.latest(), one.test.created_at))
    drawn = ordered[-MOST_ROWS:]
    rows = [(_load_words(one, tape), one) for one in drawn]
    told = max(len(words) for words, _ in rows) + 2
    most = max(max(one.test.force.si, one.mbs_n or 0.0) for one in drawn)
    lines = [words.ljust(told) + _load_bar(one, most, max(width - told, 1)) for words, one in rows]
    return Picture(title, (*_earlier(ordered), *lines), _strength_words(ordered, tape))


def _by_date(splices: Sequence[Splice]) -> list[Splice]:
    return sorted(splices, key=lambda splice: (splice.made_on.latest(), splice.created_at))


def _off(splice: Splice) -> float | None:
    marked = splice.plan.inputs.marked_eye_m if splice.plan else None
    return None if splice.finished_eye is None or marked is None else splice.finished_eye.si - marked


def _around_zero(columns: int, half: int) -> str:
    row = [" "] * (2 * half + 1)
    row[half] = ZERO
    row[half + columns] = HERE
    return "".join(row).rstrip()


def _earlier(known: Sequence[object]) -> tuple[str, ...]:
    left = len(known) - MOST_ROWS
    return (f"not drawn: {left} earlier",) if left > 0 else ()


def _eye_words(off: Sequence[float], splices: Sequence[Splice], tape: Tape) -> str:
    """How far they lie apart; a mean is told only where its interval is told with it."""
    short, long = min(off), max(off)
    between = f"{plural(len(off), 'eye')} measured, from {tape.longer(short)} to {tape.longer(long)}"
    kinds = {(splice.method, splice.plan.inputs.rope.construction) for splice in splices if splice.plan is not None}
    if len(kinds) > 1:
        return f"{between}; they are of several methods or constructions."
    return f"{between}."


def _load_words(one: Loaded, tape: Tape) -> str:
    force = tape.force(one.test.force.si)
    share = f", {percent(round(one.test.force.si / one.mbs_n, 2))} of MBS" if one.mbs_n else ""
    return f"{one.test.tested_on.text:<{DATE_WIDTH}}{force}{share}, {_end_of(one.test)}"


def _end_of(test: StrengthTest) -> str:
    return "held" if test.kind is LoadKind.PROOF else label(test.failed_at)


def _load_bar(one: Loaded, most_n: float, width: int) -> str:
    row = [" "] * width
    reach = max(round(one.test.force.si / most_n * width), 1)
    row[: reach - 1] = BAR * (reach - 1)
    if one.mbs_n:
        row[max(round(one.mbs_n / most_n * width), 1) - 1] = LIMIT
    row[reach - 1] = HELD if one.test.kind is LoadKind.PROOF else BROKE
    return "".join(row).rstrip()


def _strength_words(loaded: Sequence[Loaded], tape: Tape) -> str:
    broke = [one.test.force.si for one in loaded if one.test.kind is LoadKind.BREAK]
    held = len(loaded) - len(broke)
    told = [f"{len(broke)} broken, at {tape.force(min(broke))} to {tape.force(max(broke))}"] if broke else []
    if held:
        told.append(f"{held} held a proof load")
    unknown = sum(one.mbs_n is None for one in loaded)
    if unknown:
        told.append(f"of {unknown} the rope's stated strength is not known")
    return "; ".join(told) + "."
