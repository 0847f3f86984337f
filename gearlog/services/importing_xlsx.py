"""Workbooks: values as they are, dates as dates, and no formula taken on trust."""

from __future__ import annotations

import io
import re
import struct
import zipfile
import zlib
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

from gearlog.services.importing_headings import score
from gearlog.services.importing_table import (
    FORMULA,
    LONGEST_CELL,
    MOST_COLUMNS,
    MOST_LINES,
    ImportRefusedError,
    Line,
    Table,
)
from gearlog.units.quoting import quoted

LARGEST_UNPACKED = 500_000_000  # bytes; above it a small file is a trap
DAMAGED = (
    ArithmeticError, AttributeError, EOFError, LookupError, OSError, RuntimeError, SyntaxError, TypeError, ValueError,
    struct.error, zipfile.BadZipFile, zlib.error,
)  # fmt: skip
"""What the readers of archives and of XML raise for files that are not whole; each was seen, or is told of."""
LOOKED_AT = 20  # lines by which the sheet with the list is found
_MERGE = re.compile(rb'<mergeCell ref="([A-Z]+)([0-9]+):([A-Z]+)([0-9]+)"')
DIGITS = 12  # of a number that a cell holds: enough for any size, and 0.1 + 0.2 is 0.3


def read_workbook(data: bytes, name: str, *, sheet: str = "") -> Table:
    """The lines of the sheet that holds the list; raises ImportRefusedError."""
    _check_size(data, name)
    book = _opened(data, name, values=False)
    try:
        chosen = _chosen(book, name, sheet)
        lines, formulas = _read(book[chosen], name, _merged(data, book[chosen]))
        if formulas:
            lines = _with_values(lines, formulas, _opened(data, name, values=True)[chosen])
    except DAMAGED as error:
        raise ImportRefusedError(f"{name} is a damaged workbook ({type(error).__name__}); save it again") from error
    if not lines:
        told = f"the sheet {quoted(chosen)} of {name} is empty; name another one with --sheet"
        raise _which_sheet(told, [one for one in book.sheetnames if one != chosen])
    notes = (f"cells that hold formulas: {len(formulas)}; their last values were taken",) if formulas else ()
    return Table("xlsx", f"sheet {quoted(chosen)}", tuple(lines), notes)


def _check_size(data: bytes, name: str) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            unpacked = sum(entry.file_size for entry in packed.infolist())
            names = set(packed.namelist())
    except DAMAGED as error:
        raise ImportRefusedError(f"{name} is only a part of a workbook, or damaged; save or copy it again") from error
    if "[Content_Types].xml" not in names or not any(one.startswith("xl/") for one in names):
        raise ImportRefusedError(f"{name} is an archive and no workbook; save the list as XLSX or CSV")
    if unpacked > LARGEST_UNPACKED:
        raise ImportRefusedError(f"{name} unpacks to {unpacked:,} bytes; save only the sheet with the list")


def _opened(data: bytes, name: str, *, values: bool) -> Any:
    import warnings

    from openpyxl import load_workbook
    from openpyxl.utils.exceptions import InvalidFileException

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of styles and drawings that are not looked at
            return load_workbook(io.BytesIO(data), read_only=True, data_only=values, keep_links=False)
    except (InvalidFileException, *DAMAGED) as error:
        raise ImportRefusedError(f"{name} is a damaged workbook ({type(error).__name__}); save it again") from error


def _chosen(book: Any, name: str, sheet: str) -> str:
    """The sheet that was named, else the one whose headings are known best; two alike are asked about."""
    names: list[str] = list(book.sheetnames)
    if sheet:
        if sheet not in names:
            raise _which_sheet(f"{name} has no sheet {quoted(sheet)}; choose of: {', '.join(names)}", names)
        return sheet
    scores = {one: _sheet_score(book[one]) for one in names if hasattr(book[one], "iter_rows")}
    best = max(scores.values(), default=0)
    likely = [one for one, points in scores.items() if points == best]
    if len(likely) > 1 and best:
        raise _which_sheet(f"{name} has several lists; choose one, for example: --sheet {quoted(likely[0])}", likely)
    return likely[0] if likely else names[0]


def _which_sheet(message: str, names: list[str]) -> ImportRefusedError:
    return ImportRefusedError(message, settles="sheet", answers=tuple((name, name) for name in names))


def _sheet_score(sheet: Any) -> int:
    rows = sheet.iter_rows(max_row=LOOKED_AT, max_col=MOST_COLUMNS, values_only=True)
    return max((score(["" if cell is None else str(cell) for cell in row]) for row in rows), default=0)


def _merged(data: bytes, sheet: Any) -> dict[int, str]:
    """By number of line, the cells that share their value with cells that are merged into them, and hold none."""
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        text = packed.read(sheet._worksheet_path)
    found: dict[int, str] = {}
    for match in _MERGE.finditer(text):
        left, top, right, bottom = (part.decode() for part in match.groups())
        first = int(top) if left != right else int(top) + 1
        for number in range(first, min(int(bottom), first + MOST_LINES) + 1):
            found.setdefault(number, f"{left}{top}:{right}{bottom}")
    return found


def _read(sheet: Any, name: str, merged: dict[int, str]) -> tuple[list[Line], list[tuple[int, int]]]:
    """The lines that are not empty, and where formulas stand: (place of the line, column)."""
    lines: list[Line] = []
    formulas: list[tuple[int, int]] = []
    sheet.reset_dimensions()
    for number, row in enumerate(sheet.iter_rows(max_col=MOST_COLUMNS), 1):
        if number > MOST_LINES:
            raise ImportRefusedError(f"{name} has more than {MOST_LINES:,} lines; split it")
        cells = tuple(_text(cell.value) for cell in row)
        if any(cells):
            formulas += [(len(lines), column) for column, cell in enumerate(row) if cell.data_type == "f"]
            errors = [cells[column] for column, cell in enumerate(row) if cell.data_type == "e"]
            lines.append(Line(number, cells, _fault(errors, merged.get(number, ""))))
    return lines, formulas


def _fault(errors: list[str], merged: str) -> str:
    if errors:
        return f"holds {errors[0]}, an error of the spreadsheet; mend the cell"
    return f"has merged cells ({merged}) that share one value; unmerge and fill them" if merged else ""


def _with_values(lines: list[Line], formulas: list[tuple[int, int]], sheet: Any) -> list[Line]:
    """The lines with the values that the formulas had when the workbook was saved; one that has none stays one."""
    wanted: dict[int, list[tuple[int, int]]] = {}
    for place, column in formulas:
        wanted.setdefault(lines[place].number, []).append((place, column))
    sheet.reset_dimensions()
    for number, row in enumerate(sheet.iter_rows(max_col=MOST_COLUMNS, values_only=True), 1):
        for place, column in wanted.get(number, ()):
            cells = list(lines[place].cells)
            value = row[column] if column < len(row) else None
            cells[column] = FORMULA if value is None else _text(value)
            lines[place] = Line(number, tuple(cells), lines[place].fault)
    return lines


def _text(value: object) -> str:
    """A cell's value as it would be typed."""
    if value is None:
        return ""
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(" ")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return _number(value)
    return str(value).strip()[:LONGEST_CELL]


def _number(value: float) -> str:
    """Without idle zeros and without the noise of binary fractions."""
    text = f"{Decimal(repr(value)):.{DIGITS}f}" if value == value else "nan"  # noqa: PLR0124 (nan is unlike itself)
    return text.rstrip("0").rstrip(".") if "." in text else text
