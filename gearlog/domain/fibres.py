"""Fibres: what ropes are made of, with their densities and where those were read."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Literal

import msgspec

from gearlog.errors import NotFoundError
from gearlog.units.quoting import quoted

_DATA = Path(__file__).with_name("data") / "fibres.toml"


class Fibre(msgspec.Struct, frozen=True, kw_only=True):
    """One fibre.

    Attributes:
        id: as in records, for example ``polyamide``.
        title: as people say it.
        aliases: other names that are understood, for example nylon.
        kind: natural or synthetic; tucks of laid rope are counted by it.
        density_range: the two ends of what the source gives (kg/m3), or None when unknown.
        density_source: where that was read, or empty.
        slippery: so smooth that a bury made for polyester would not hold.
        notes: what a splicer should know.
        notes_source: where that was read.
    """

    id: str
    title: str
    aliases: tuple[str, ...]
    kind: Literal["natural", "synthetic"]
    density_range: tuple[float, float] | None = None
    density_source: str = ""
    slippery: bool
    notes: str = ""
    notes_source: str = ""

    @property
    def density_kg_m3(self) -> float | None:
        """The middle of ``density_range`` (kg/m3), or None when unknown."""
        return sum(self.density_range) / 2 if self.density_range else None


def fibre(id_or_alias: str) -> Fibre:
    """The fibre of this id or alias, in small or capital letters; raises NotFoundError that lists them."""
    try:
        return _by_name()[id_or_alias.strip(" ").casefold()]
    except KeyError:
        known = ", ".join(one.id for one in all_fibres())
        raise NotFoundError(f"{quoted(id_or_alias)} is not a fibre; use one of {known}") from None


@cache
def all_fibres() -> tuple[Fibre, ...]:
    """All fibres in the order of the catalogue."""
    rows = tomllib.loads(_DATA.read_text(encoding="utf-8"))["fibre"]
    return tuple(msgspec.convert(rows, list[Fibre]))


@cache
def _by_name() -> dict[str, Fibre]:
    return {name: one for one in all_fibres() for name in (one.id, *one.aliases)}
