"""CSV (RFC 4180) that opens in any spreadsheet and in none of them runs what people typed."""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum

from gearlog.domain.dates import PartialDate
from gearlog.units.measure import Measure
from gearlog.units.visible import visible

Cell = str | int | float | Decimal | date | datetime | PartialDate | Measure | StrEnum | None
"""What a cell may hold: None is empty, dates are ISO 8601, measures as typed, numbers as they are."""

BOM = "\ufeff"
"""Asked for by some spreadsheets to see that the file is UTF-8; off unless wanted."""
RUN_BY_SPREADSHEETS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""A cell that begins so is a formula to some spreadsheet; the last four are the same signs, full width."""
HARMLESS = "'"
_NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?([eE][+-]?[0-9]+)?")


def to_csv(headings: Sequence[str], rows: Iterable[Sequence[Cell]], *, bom: bool = False) -> bytes:
    """The rows under their headings, UTF-8, lines ended by CR LF; ValueError for a number that is none."""
    sheet = io.StringIO(newline="")
    writer = csv.writer(sheet, lineterminator="\r\n")
    writer.writerow([_safe(heading) for heading in headings])
    writer.writerows([_text(cell) for cell in row] for row in rows)
    return ((BOM if bom else "") + sheet.getvalue()).encode()


def _text(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, float | Decimal):
        return _number(cell)
    if isinstance(cell, date):
        return cell.isoformat()
    return _safe(str(cell))


def _number(number: float | Decimal) -> str:
    """Written out, not rounded, never in powers of ten that a spreadsheet could take for text."""
    if not math.isfinite(number):
        raise ValueError(f"{number} is no number for a list")
    exact = number if isinstance(number, Decimal) else Decimal(repr(number))
    return f"{exact:f}"


def _safe(text: str) -> str:
    """Text with its control signs written out, and a mark before it where it would be run; numbers stay."""
    shown = visible(text)
    if text.lstrip(" ").startswith(RUN_BY_SPREADSHEETS) and not _NUMBER.fullmatch(text.strip()):
        return HARMLESS + shown
    return shown
