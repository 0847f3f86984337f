"""A rope in words, as one would say it: ``cover-loaded, 12.7 mm, polyester, core polyester, 24 kN, 120 g/m``."""

from __future__ import annotations

import re
from typing import Any

from gearlog.domain.fibres import fibre
from gearlog.domain.item import RopeFacts
from gearlog.domain.vocabulary import Lay
from gearlog.errors import GearlogError, ReadingError
from gearlog.services.forms import CONSTRUCTIONS, STRANDS
from gearlog.services.reading_forms import BLANKS
from gearlog.units.measure import Force, Length, LinearMass, Measure
from gearlog.units.quoting import quoted

EXAMPLE = "'cover-loaded, 12.7 mm, polyester, core polyester, 24 kN, 120 g/m'"
_STRANDS = re.compile(r"(\d{1,3}) (?:strands?|carriers?)", re.ASCII)
_PERCENT = re.compile(r"(\d{1,2}(?:\.\d{1,3})?) ?%(?: at (.+))?", re.ASCII)
_MEASURES: dict[str, type[Measure]] = {"diameter": Length, "mbs": Force, "mass_per_length": LinearMass}
_MOST_WORDS = 20


def says_a_rope(text: str) -> bool:
    """Whether the text is meant as a rope in words and not as a tag."""
    first = text.partition(",")[0]
    return "," in text or _construction(_folded(first)) is not None


def read_rope_words(text: str) -> tuple[RopeFacts, Force | None]:
    """The rope and its breaking strength; raises ReadingError with an example for words that say nothing."""
    facts: dict[str, Any] = {}
    parts = [part for part in text.split(",") if part.strip(BLANKS)]
    for part in parts[:_MOST_WORDS]:
        for name, value in _meaning(part).items():
            if name in facts:
                raise ReadingError(f"{quoted(part.strip(BLANKS))} is said twice; say each once, such as {EXAMPLE}")
            facts[name] = value
    if "construction" not in facts:
        listed = ", ".join(value for value, _ in CONSTRUCTIONS)
        raise ReadingError(f"{quoted(text)} does not say the construction; name one of {listed}, such as {EXAMPLE}")
    strength = facts.pop("mbs", None)
    return RopeFacts(**facts), strength


def _meaning(part: str) -> dict[str, Any]:
    """What one part says, by the name of the fact."""
    word = _folded(part)
    if (kind := _construction(word)) is not None:
        return {"construction": kind}
    if word in {lay.value for lay in Lay}:
        return {"lay": Lay(word)}
    if found := _STRANDS.fullmatch(word):
        return {"strands": _strands(part, int(found[1]))}
    if found := _PERCENT.fullmatch(part.strip(BLANKS)):
        at = {"elongation_at": Force.read(found[2])} if found[2] else {}
        return {"elongation_percent": float(found[1])} | at
    return _fibre(word) or _measure(part)


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())


def _construction(word: str) -> str | None:
    return next((value for value, title in CONSTRUCTIONS if word in {value, title}), None)


def _strands(part: str, count: int) -> int:
    if not 2 <= count <= STRANDS:  # noqa: PLR2004 (a rope has two strands at least)
        raise ReadingError(f"{quoted(part.strip(BLANKS))} cannot be, 2 to {STRANDS} can; say it such as {EXAMPLE}")
    return count


def _fibre(word: str) -> dict[str, str]:
    name, field = (word[5:], "core_fibre") if word.startswith("core ") else (word, "cover_fibre")
    try:
        return {field: fibre(name).id}
    except GearlogError:
        return {}


def _measure(part: str) -> dict[str, Measure]:
    for name, kind in _MEASURES.items():
        try:
            return {name: kind.read(part)}
        except ReadingError:
            continue
    raise ReadingError(f"{quoted(part.strip(BLANKS))} says nothing of a rope; say it such as {EXAMPLE}")
