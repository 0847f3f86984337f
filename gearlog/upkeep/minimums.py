"""Whether a strength that was typed can be right for the standard that the item claims: a note, never a replacement."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cache
from importlib import resources

import msgspec

from gearlog.domain.item import Item
from gearlog.units.measure import Force
from gearlog.units.visible import visible

CORD_DIVISOR = 5
"""kN = mm squared over this, of accessory cord: EN 564."""
CORD_MM = (4, 8)
"""mm; accessory cord by EN 564 is from 4 to 8 mm thick."""
STANDARD_AND_CLASS = 2
"""Claims of a standard that has classes or types: the standard, and the class."""
_YEAR = r"(?::\s*\d{4})?"
_BETWEEN = r"[\s/,:(\-\u2013]*(?:class|type)?\s*"
"""What may stand between a standard and the letter of its class."""
KN = 1000
MM = 1000
_WORDS = {
    "breaking_strength": "breaking strength",
    "gate_open_strength": "strength with the gate open",
    "minor_axis_strength": "strength across",
}


class Minimum(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The least strength that a standard asks for.

    Attributes:
        claims: words that all stand in the standards claimed.
        field: which strength.
        source: the standard, with what it speaks of.
        least: the strength; empty where it follows from the cord's diameter.
        cord: whether it does.
        rope: only of what is made of rope, or only of what is not; None is both.
    """

    claims: tuple[str, ...]
    field: str
    source: str
    least: str = ""
    cord: bool = False
    rope: bool | None = None

    def claimed_by(self, item: Item) -> bool:
        """Whether ``item`` claims this standard."""
        words = item.standards.casefold()
        found = all(_stands(claim, words) for claim in self.claims) or _follows(self.claims, words)
        return found and (self.rope is None or self.rope is (item.rope is not None))

    def newtons(self, item: Item) -> Fraction | None:
        """The least strength for ``item`` (N); None where it cannot be told."""
        if not self.cord:
            return Force.read(self.least).exact
        diameter = item.rope.diameter if item.rope is not None else None
        if diameter is None or not CORD_MM[0] <= diameter.exact * MM <= CORD_MM[1]:
            return None
        return (diameter.exact * MM) ** 2 / CORD_DIVISOR * KN


def _stands(claim: str, words: str) -> bool:
    """Whether the claim's words stand there as whole words, one after the other; ``EN 362`` is ``EN362`` too."""
    pattern = r"\s*".join(re.escape(word) for word in claim.casefold().split())
    return re.search(rf"(?<!\w){pattern}(?!\w)", words) is not None


def _follows(claims: Sequence[str], words: str) -> bool:
    """Whether the class follows the standard without the word, as it is printed: ``EN 362/B``, ``EN 1891:1998 A``."""
    if len(claims) != STANDARD_AND_CLASS:
        return False
    standard = r"\s*".join(re.escape(word) for word in claims[0].casefold().split())
    letter = re.escape(claims[1].casefold().split()[-1])
    return re.search(rf"(?<!\w){standard}{_YEAR}{_BETWEEN}{letter}(?!\w)", words) is not None


def strength_notes(item: Item) -> tuple[str, ...]:
    """What does not fit between the strengths typed and the standards claimed, in words."""
    return tuple(_notes(item)) if item.standards else ()


def _notes(item: Item) -> Iterator[str]:
    for minimum in all_minimums():
        typed = _typed(item, minimum.field)
        least = minimum.newtons(item) if typed is not None and minimum.claimed_by(item) else None
        if typed is not None and least is not None and typed.exact < least:
            asked = f"{float(least) / KN:.3g} kN"
            yield (
                f"{_WORDS[minimum.field]} {visible(typed.text)} is below the {asked} of {minimum.source}: "
                "read the marking again"
            )


def _typed(item: Item, field: str) -> Force | None:
    if field == "breaking_strength":
        return item.breaking_strength
    found: Force | None = getattr(item.device, field) if item.device is not None else None
    return found


@cache
def all_minimums() -> tuple[Minimum, ...]:
    """Every minimum on record."""
    text = (resources.files("gearlog.upkeep") / "minimums.toml").read_text(encoding="utf-8")
    return tuple(msgspec.convert(tomllib.loads(text)["minimum"], list[Minimum]))
