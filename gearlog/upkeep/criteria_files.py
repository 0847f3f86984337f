"""What an inspection looks for, as data: files by category and construction, each criterion with its sources."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources

import msgspec

from gearlog.domain.vocabulary import Category, EndState

COMMON_PRACTICE = "common practice, unconfirmed"
"""How a source names what no document was found for."""


class Criterion(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One thing to look for.

    Attributes:
        id: stable; kept with every answer.
        look: what to look for.
        how: how to look.
        watch: what is to be watched.
        fail: what takes the item out of service.
        sources: where this comes from.
        eye: whether it speaks of an eye; a splice between the ends has none.
    """

    id: str
    look: str
    how: str
    watch: str
    fail: str
    sources: tuple[str, ...]
    eye: bool = False


class CriteriaFile(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The criteria of one file and what they are asked of; an empty filter lets all pass.

    Attributes:
        title: the heading of its lines.
        criteria: in the order in which they are asked.
        categories: of items.
        constructions: of ropes.
        rope: only of what is made of rope, or only of what is not; None is both.
        of: the state of a rope's end for which they are asked, end by end; of a spliced one each splice between is
            asked too. None is the item itself.
    """

    title: str
    criteria: tuple[Criterion, ...] = msgspec.field(name="criterion")
    categories: tuple[Category, ...] = ()
    constructions: tuple[str, ...] = ()
    rope: bool | None = None
    of: EndState | None = None


ORDER = (
    "common", "rope", "three-strand", "hollow-braid", "cover-loaded", "double-braid", "kernmantle", "splice",
    "splice-laid", "splice-braid", "sewn-end", "knotted-end", "webbing", "webbing-fittings", "harness", "metal",
    "connector", "pulley", "ring-or-swivel", "ascender-or-descender", "friction-device", "helmet", "other",
)  # fmt: skip
"""The files in the order in which one looks: the item, its length, its ends, its parts."""


@cache
def all_files() -> tuple[CriteriaFile, ...]:
    """Every file of criteria in the order in which they are asked."""
    folder = resources.files("gearlog.upkeep") / "criteria"
    return tuple(_read((folder / f"{name}.toml").read_text(encoding="utf-8")) for name in ORDER)


def _read(text: str) -> CriteriaFile:
    return msgspec.convert(tomllib.loads(text), CriteriaFile)
