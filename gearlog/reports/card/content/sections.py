"""The kinds of sections that a card is made of. Text is as people typed it; each format makes it safe for itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from gearlog.reports.card.vector.figure import Figure

CellKind = Literal["text", "strong", "number", "tick", "blank"]
"""How a column is shown: ``tick`` is an empty box, ``blank`` is room to write in."""


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and what they are: (name, value)."""

    title: str
    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a grid: its heading, its share of the width, and how its cells are shown."""

    heading: str
    share: float
    kind: CellKind = "text"


@dataclass(frozen=True, slots=True)
class Grid:
    """A table; a row has a text for each column, empty where the column is a box or blank.

    ``narrow`` ones have room side by side.
    """

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""
    narrow: bool = False


@dataclass(frozen=True, slots=True)
class Lines:
    """Sentences one under the other, with a box before each where they are ``ticked``."""

    title: str
    items: tuple[str, ...]
    ticked: bool = False


@dataclass(frozen=True, slots=True)
class Picture:
    """The drawing."""

    title: str
    figure: Figure


@dataclass(frozen=True, slots=True)
class Signing:
    """Names with room to write behind each; what is known already stands there."""

    title: str
    fields: tuple[tuple[str, str], ...]


Section = Facts | Grid | Lines | Picture | Signing


@dataclass(frozen=True, slots=True)
class Card:
    """A whole card.

    Attributes:
        head: small words over the title.
        title: the method's title; ``lead`` says for what rope.
        stops: why this splice must not be made; they stand large before all else.
        sections: in order.
        foot: on every page.
    """

    head: str
    title: str
    lead: str
    stops: tuple[str, ...]
    sections: tuple[Section, ...]
    foot: str
