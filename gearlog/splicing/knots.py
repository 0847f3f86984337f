"""Knots that stay in a line: what each keeps of the rope's strength."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources

import msgspec

from gearlog.errors import NotFoundError
from gearlog.units.quoting import quoted


class Knot(msgspec.Struct, frozen=True, kw_only=True):
    """A knot: the part of the rope's strength that it keeps, with its source."""

    id: str
    title: str
    kept: float
    source: str


@cache
def all_knots() -> tuple[Knot, ...]:
    """The knots with a published figure, and ``any-knot`` for the rest."""
    text = (resources.files("gearlog.splicing") / "knots.toml").read_text(encoding="utf-8")
    return msgspec.convert(tomllib.loads(text)["knots"], tuple[Knot, ...])


def knot(id: str) -> Knot:  # noqa: A002 (the table's own word)
    """The knot with this id; raises NotFoundError that lists them."""
    for one in all_knots():
        if one.id == id:
            return one
    known = ", ".join(one.id for one in all_knots())
    raise NotFoundError(f"{quoted(id)} is not a knot of the table; use one of {known}")
