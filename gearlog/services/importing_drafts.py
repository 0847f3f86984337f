"""A line of a list while it is read: what is known of its file, what it tells, and what is in doubt."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import msgspec

from gearlog.services.importing_choices import Choices
from gearlog.services.importing_views import Cell, Column


class Doubt(msgspec.Struct, frozen=True):
    """What cannot be told for certain, and the one answer that settles it.

    Attributes:
        id: the same for all lines that one answer settles.
        fact: what is in doubt.
        asks: the question.
        way_out: how it is answered.
    """

    id: str
    fact: str
    asks: str
    way_out: str


class Context(msgspec.Struct, frozen=True):
    """What is known of the whole file.

    Attributes:
        columns: in the order of the cells.
        orders: by place of a column of dates, the order that its dates prove.
        decimal: the decimal sign, said or proved; empty where neither.
        choices: what the user said.
        today: the day of the import.
    """

    columns: tuple[Column, ...]
    orders: Mapping[int, str]
    decimal: str
    choices: Choices
    today: date


class Draft(msgspec.Struct):
    """A line being read.

    Attributes:
        line: its number.
        form: the item's form.
        told: the same before any answer filled in what the line does not tell: by it the line is known again.
        more: texts for the history: examination and status.
        doubts: what has to be asked.
        faults: why it cannot be added.
        notes: what was read in another way than it is written.
        cells: those that do not read, or not for certain; ``read_from`` is where each field was read.
    """

    line: int
    form: dict[str, str] = {}
    told: dict[str, str] = {}
    more: dict[str, str] = {}
    doubts: list[Doubt] = []
    faults: list[str] = []
    notes: list[str] = []
    cells: list[Cell] = []
    read_from: dict[str, tuple[str, str]] = {}
