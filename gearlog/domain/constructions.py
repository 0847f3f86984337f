"""How ropes are made: the catalogue of constructions, and what follows from each."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

import msgspec

from gearlog.domain.vocabulary import Lay
from gearlog.errors import NotFoundError
from gearlog.units.quoting import quoted

_DATA = Path(__file__).with_name("data") / "constructions.toml"


class Construction(msgspec.Struct, frozen=True, kw_only=True):
    """One way to make a rope.

    Attributes:
        id: as in records, for example ``hollow-braid``.
        title: as people say it.
        load_bearing: the part that carries the load.
        load_words: a sentence on what carries the load.
        splicing_words: what it means for splicing.
        damage_words: what damage to the cover or the strands means.
        strand_counts: strands, or carriers of the braid that is spliced, that commonly occur.
        least_strands: the fewest that can be right.
        most_strands: the most that can be right.
        default_strands: the usual count.
        eye_spliced: whether an eye is commonly spliced in it (loosely made, of a hollow braid).
        instead: what to do where none is, or empty.
        tight_words: of a hollow braid, what a tight lay means.
        tight_instead: of a hollow braid, what to do when it is tight.
        sources: name of an attribute -> where its statement comes from.
    """

    id: str
    title: str
    load_bearing: str
    load_words: str
    splicing_words: str
    damage_words: str
    strand_counts: tuple[int, ...]
    least_strands: int
    most_strands: int
    default_strands: int
    eye_spliced: bool
    instead: str
    tight_words: str = ""
    tight_instead: str = ""
    sources: dict[str, str]

    def splices(self, lay: Lay | None = None) -> bool:
        """Whether an eye splice is commonly published for it, made with ``lay``."""
        return self.eye_spliced and not (lay is Lay.TIGHT and self.tight_words)

    def instead_of_splice(self, lay: Lay | None = None) -> str:
        """What to do where no eye is spliced; empty where one is."""
        if self.splices(lay):
            return ""
        return self.instead or self.tight_instead

    def takes_strands(self, count: int) -> bool:
        """Whether ``count`` can be right: in range and, for a braid, half of them laid each way."""
        in_range = self.least_strands <= count <= self.most_strands
        return in_range and (count % 2 == 0 or self.most_strands == self.least_strands)

    @property
    def has_core(self) -> bool:
        """Whether anything lies inside the strands."""
        return "all strands" not in self.load_bearing


def construction(id: str) -> Construction:  # noqa: A002 (the catalogue's own word)
    """The construction with this id; raises NotFoundError that lists them."""
    try:
        return _catalogue()[id]
    except KeyError:
        known = ", ".join(_catalogue())
        raise NotFoundError(f"{quoted(id)} is not a construction; use one of {known}") from None


def find_construction(id: str) -> Construction | None:  # noqa: A002 (the same)
    """The construction with this id; None where there is none, as in a log that something else wrote."""
    return _catalogue().get(id)


def all_constructions() -> tuple[Construction, ...]:
    """All constructions in the order of the catalogue."""
    return tuple(_catalogue().values())


@cache
def _catalogue() -> dict[str, Construction]:
    rows = tomllib.loads(_DATA.read_text(encoding="utf-8"))["construction"]
    return {one.id: one for one in msgspec.convert(rows, list[Construction])}
