"""Two ropes side by side as plain lines, one fact a line; both sides of a fact stand under one another."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from gearlog.domain.mass import LineMass
from gearlog.domain.ropes_compared import MadeBefore, RopesCompared, RopeSide
from gearlog.reports.words import UNKNOWN, Tape, percent, plural
from gearlog.units import showing
from gearlog.units.visible import visible

NEAR = 0.005  # of the larger: closer than that two figures count as the same
Say = Callable[[float], str]


def compared_lines(both: RopesCompared, *, imperial: bool = False, parts: int = 16) -> tuple[str, ...]:
    """Each fact of the first rope and of the second, what differs, and what the diary knows."""
    tape = Tape(imperial, parts)
    lines = [*_head(both), *_facts(both, tape), *difference_lines(both, imperial=imperial), *_diary(both)]
    return tuple(visible(line) for line in lines)


def difference_lines(
    both: RopesCompared, *, imperial: bool = False, names: tuple[str, str] = ("the first", "the second")
) -> tuple[str, ...]:
    """What differs, in words; a figure that one side lacks is said to be unknown there. ``names`` are the ropes'."""
    return tuple(_differences(both.first, both.second, names, imperial=imperial))


def _sides(both: RopesCompared) -> tuple[tuple[str, RopeSide], tuple[str, RopeSide]]:
    return ("First", both.first), ("Second", both.second)


def _head(both: RopesCompared) -> Iterator[str]:
    for which, side in _sides(both):
        yield f"{which}: {side.name}" + (f" ({side.tag})" if side.tag else ", as said")


def _facts(both: RopesCompared, tape: Tape) -> Iterator[str]:
    for say in (_construction, _fibre, _diameter, _mass, _strength, _elongation, _load, _splices):
        for which, side in _sides(both):
            yield f"{which}, {say(side, tape)}"


def _construction(side: RopeSide, tape: Tape) -> str:
    del tape
    return f"construction: {side.construction}" + (f", {side.strands} strands" if side.strands else "")


def _fibre(side: RopeSide, tape: Tape) -> str:
    del tape
    return f"fibre: {side.fibre or UNKNOWN}" + (f", core of {side.core_fibre}" if side.core_fibre else "")


def _diameter(side: RopeSide, tape: Tape) -> str:
    return f"diameter: {tape.diameter(side.diameter_m)}"


def _mass(side: RopeSide, tape: Tape) -> str:
    if side.mass.kg_per_m is None:
        return f"carried mass: {UNKNOWN}, because {side.mass.why}"
    carried = ", ".join(
        f"{showing.mass(one.mass_kg or 0.0, imperial=tape.imperial)} at "
        f"{showing.rope_length(one.length_m, imperial=tape.imperial)}"
        for one in side.carried
    )
    return f"carried mass: {carried}; {_per_length(side.mass, tape)}"


def _per_length(mass: LineMass, tape: Tape) -> str:
    low, high = mass.low_kg_per_m, mass.high_kg_per_m
    shown = showing.linear_mass(mass.kg_per_m or 0.0, imperial=tape.imperial)
    if low is None or high is None or low == high:
        return f"{shown}, {mass.source}"
    ends = (showing.linear_mass(one, imperial=tape.imperial) for one in (low, high))
    return f"{shown} ({' to '.join(ends)}), {mass.source}"


def _strength(side: RopeSide, tape: Tape) -> str:
    return f"breaking strength: {tape.force(side.mbs_n)}"


def _elongation(side: RopeSide, tape: Tape) -> str:
    if side.elongation_percent is None:
        return f"elongation: {UNKNOWN}"
    at = f" at {tape.force(side.elongation_at_n)}" if side.elongation_at_n is not None else ", load not stated"
    return f"elongation: {percent(side.elongation_percent / 100)}{at}"


def _load(side: RopeSide, tape: Tape) -> str:
    del tape
    return f"what carries the load: {side.load_bearing}. {side.load_words} {side.damage_words}"


def _splices(side: RopeSide, tape: Tape) -> str:
    del tape
    listed = ", ".join(one.title for one in side.splices) or "none"
    return f"what can be made in it: {listed}" + (f". {side.instead}" if side.instead else "")


def _differences(one: RopeSide, other: RopeSide, names: tuple[str, str], *, imperial: bool) -> Iterator[str]:
    for mine, theirs in zip(one.carried, other.carried, strict=True):
        at = showing.rope_length(mine.length_m, imperial=imperial)
        words = ("lighter", "heavier")
        mass: Say = lambda by: showing.mass(by, imperial=imperial)  # noqa: E731 (one word for a unit)
        yield _difference(f"carried mass at {at}", (mine.mass_kg, theirs.mass_kg), words, mass, names)
    size: Say = lambda by: showing.diameter(by, imperial=imperial)  # noqa: E731 (the same)
    force: Say = lambda by: showing.force(by, imperial=imperial)  # noqa: E731 (the same)
    yield _difference("diameter", (one.diameter_m, other.diameter_m), ("thinner", "thicker"), size, names)
    yield _difference("breaking strength", (one.mbs_n, other.mbs_n), ("weaker", "stronger"), force, names)
    yield _stretch(one, other, names)
    if one.load_bearing != other.load_bearing:
        yield (
            f"Difference, what carries the load: in {names[0]} {one.load_bearing}, in {names[1]} {other.load_bearing}"
        )


def _stretch(one: RopeSide, other: RopeSide, names: tuple[str, str]) -> str:
    figures = (one.elongation_percent, other.elongation_percent)
    if None not in figures and (one.elongation_at_n is None or one.elongation_at_n != other.elongation_at_n):
        return "Difference, elongation: stated at different loads or at none, so it cannot be compared"
    words = ("stretching less", "stretching more")
    return _difference("elongation", figures, words, lambda by: percent(by / 100), names)


def _difference(
    what: str, figures: tuple[float | None, float | None], words: tuple[str, str], say: Say, names: tuple[str, str]
) -> str:
    one, other = figures
    if one is None or other is None:
        missing = "both" if one is None and other is None else names[one is not None]
        return f"Difference, {what}: unknown, for want of a figure for {missing}"
    if abs(one - other) <= NEAR * max(one, other):
        return f"Difference, {what}: none"
    return f"Difference, {what}: {names[0]} is {words[0] if one < other else words[1]} by {say(abs(one - other))}"


def _diary(both: RopesCompared) -> Iterator[str]:
    for which, side in _sides(both):
        if not side.made:
            yield f"{which}, in the diary: nothing like it was spliced yet"
            continue
        yield f"{which}, in the diary: {plural(side.made, 'splice')} in it or in ropes like it, {side.good} good"
        for one in side.last:
            yield f"{which}, last: {_made(one)}"


def _made(one: MadeBefore) -> str:
    minutes = f", {one.minutes} minutes" if one.minutes is not None else ""
    return f"{one.made_on}, {one.method}, {one.outcome}{minutes}; {one.rope or UNKNOWN}: {'; '.join(one.why)}"
