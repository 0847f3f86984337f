"""A file as lines of cells, whatever program wrote it; what is none is refused in one line."""

from __future__ import annotations

import msgspec

from gearlog.errors import GearlogError

LARGEST = 64_000_000  # bytes; a hundred thousand lines have 20 million
MOST_LINES = 200_000
MOST_COLUMNS = 200
LONGEST_CELL = 32_767  # characters; what a spreadsheet's cell can hold
FORMULA = "="
"""A cell of a workbook whose formula has no value that was kept begins so."""


class ImportRefusedError(GearlogError):
    """The file cannot be read as a list at all.

    Attributes:
        settles: what an answer would settle, ``sheet`` or ``encoding``; empty where none would.
        answers: (value, words) of what can be answered.
    """

    title = "Not a list"

    def __init__(self, message: str, *, settles: str = "", answers: tuple[tuple[str, str], ...] = ()) -> None:
        super().__init__(message)
        self.settles = settles
        self.answers = answers


class Line(msgspec.Struct, frozen=True):
    """One line of the file.

    Attributes:
        number: counted from 1, as an editor or a spreadsheet counts.
        cells: their texts, trimmed; dates as ISO 8601.
        fault: why it cannot be read, or empty.
        may_be_cut: whether the file ends in it, without the end of a line.
    """

    number: int
    cells: tuple[str, ...]
    fault: str = ""
    may_be_cut: bool = False


class Table(msgspec.Struct, frozen=True):
    """The lines of a file, empty ones left out.

    Attributes:
        kind: ``csv`` or ``xlsx``.
        read_as: how it was read, in words.
        lines: in their order.
        notes: what was recognised and should be looked at.
    """

    kind: str
    read_as: str
    lines: tuple[Line, ...]
    notes: tuple[str, ...] = ()


def read_table(data: bytes, name: str, *, encoding: str = "", sheet: str = "") -> Table:
    """The lines of a CSV file or a workbook; raises ImportRefusedError with the reason and the way out."""
    if len(data) > LARGEST:
        raise ImportRefusedError(f"{name} has {len(data):,} bytes; split it into files below {LARGEST:,}")
    if not data.strip():
        raise ImportRefusedError(f"{name} is empty; export the list again")
    if data.startswith(b"PK\x03\x04"):
        from gearlog.services.importing_xlsx import read_workbook

        return read_workbook(data, name, sheet=sheet)
    if data.startswith(b"\xd0\xcf\x11\xe0"):
        raise ImportRefusedError(f"{name} is a workbook of an old kind; save it as XLSX or CSV")
    from gearlog.services.importing_csv import read_csv

    return read_csv(data, name, encoding=encoding)
