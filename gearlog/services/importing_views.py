"""What an import shows before anything is saved: columns, questions, and the fate of every line."""

from __future__ import annotations

from enum import StrEnum

import msgspec


class Fate(StrEnum):
    """What becomes of a line."""

    ADD = "add"
    KNOWN = "known"
    ASK = "ask"
    REFUSE = "refuse"
    SKIP = "skip"


class Column(msgspec.Struct, frozen=True):
    """One column of the file.

    Attributes:
        heading: as it stands in the file.
        field: the particular it is read as, or empty when it is not used.
        unit: the unit that its heading names, or empty.
        sample: the first text in it.
        why: how it was matched, or why it is not used.
    """

    heading: str
    field: str
    unit: str
    sample: str
    why: str


class Question(msgspec.Struct, frozen=True):
    """Something that is not certain and that one answer settles for all its lines.

    Attributes:
        id: what the answer is given for, such as ``dates`` or ``unit diameter``.
        asks: the question, with an example from the file.
        way_out: what to type, with an example.
        lines: how many lines wait for the answer; ``first`` is the number of the first.
    """

    id: str
    asks: str
    way_out: str
    lines: int
    first: int


class Cell(msgspec.Struct, frozen=True):
    """One cell that does not read, or not for certain.

    Attributes:
        heading: of its column; ``text`` as it stands in the file; ``why`` it does not read.
    """

    heading: str
    text: str
    why: str


class LineFate(msgspec.Struct, frozen=True):
    """What becomes of one line of the file.

    Attributes:
        line: its number in the file, counted from 1.
        fate: added, known already, waiting for an answer, refused, or skipped.
        tag: the tag of the item, where there is one.
        name: its name, where it was read.
        reasons: why it is not added, a line each.
        notes: what was read in another way than it is written, a line each.
        cells: those that can be typed anew.
        asked: ids of the questions that it waits for.
    """

    line: int
    fate: Fate
    tag: str = ""
    name: str = ""
    reasons: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    cells: tuple[Cell, ...] = ()
    asked: tuple[str, ...] = ()


class Trial(msgspec.Struct, frozen=True, kw_only=True):
    """An import as it would be made.

    Attributes:
        file: the file's name.
        kind: ``csv`` or ``xlsx``; ``read_as`` says encoding and delimiter, or the sheet.
        heading_line: number of the line that holds the headings; 0 where none was found.
        columns: in the order of the file.
        notes: what was recognised, in words.
        questions: what has to be answered first.
        fates: of every line after the headings.
        imported: how many items were saved; 0 for a trial.
    """

    file: str
    kind: str
    read_as: str
    heading_line: int
    columns: tuple[Column, ...]
    notes: tuple[str, ...]
    questions: tuple[Question, ...]
    fates: tuple[LineFate, ...]
    imported: int = 0

    def count(self, fate: Fate) -> int:
        """How many lines have this fate."""
        return sum(one.fate is fate for one in self.fates)

    @property
    def all_well(self) -> bool:
        """Whether every line can be added, or is known already."""
        return not self.questions and not any(one.fate in {Fate.ASK, Fate.REFUSE} for one in self.fates)
