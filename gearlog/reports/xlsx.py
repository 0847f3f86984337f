"""Workbooks: texts stay texts, dates are dates, numbers are numbers, and nothing that people typed is run."""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from datetime import UTC, date, datetime
from typing import Any

from gearlog.reports.audit_tables import Table
from gearlog.units.visible import visible

WIDEST = 48  # characters of a column; longer texts wrap
NARROWEST = 6
LONGEST = 32_767  # characters that a cell can hold
_OF_DATES = re.compile(r"( on|^date)$")
"""Headings of columns that hold dates; a serial number that looks like a date stays a text."""
_NUMBER = re.compile(r"\d{1,15}(\.\d+)?", re.ASCII)
_IN_UNIT = re.compile(r"\((kN|mm|m)\)$")
_PAPERS = {"a4": 9, "letter": 1}
"""The numbers that workbooks give papers (ECMA-376, part 1, 18.3.1.63)."""
_EPOCH = datetime(2000, 1, 1, tzinfo=UTC).replace(tzinfo=None)
"""Written as the time of making, so that the same tables give the same bytes."""


def to_xlsx(tables: Sequence[Table], *, title: str, foot: str, paper: str) -> bytes:
    """A workbook with one sheet for each table; ``foot`` is printed on each page."""
    import xlsxwriter

    file = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    with xlsxwriter.Workbook(file, options) as book:
        book.set_properties({"title": title, "created": _EPOCH})
        wrapped = {"text_wrap": True, "valign": "top"}
        formats = {
            "head": book.add_format({**wrapped, "bold": True, "bottom": 1, "bg_color": "#E6E6E6"}),
            "text": book.add_format(wrapped),
            "date": book.add_format({"num_format": "yyyy-mm-dd", "valign": "top", "align": "left"}),
        }
        for table in tables:
            _sheet(book.add_worksheet(table.name), table, formats, foot, paper)
    return file.getvalue()


def _sheet(sheet: Any, table: Table, formats: dict[str, Any], foot: str, paper: str) -> None:
    for column, heading in enumerate(table.headings):
        sheet.write_string(0, column, visible(heading), formats["head"])
        sheet.set_column(column, column, _width(table, column))
    for number, row in enumerate(table.rows, 1):
        for column, text in enumerate(row):
            _cell(sheet, (number, column), text, table.headings[column], formats)
    sheet.freeze_panes(1, 1)
    if table.rows:
        sheet.autofilter(0, 0, len(table.rows), len(table.headings) - 1)
    sheet.repeat_rows(0)
    sheet.set_landscape()
    sheet.set_paper(_PAPERS[paper])
    sheet.fit_to_pages(1, 0)
    sheet.set_footer(f"&L&8{foot.replace('&', '&&')}&R&8&P / &N")


def _cell(sheet: Any, at: tuple[int, int], text: str, heading: str, formats: dict[str, Any]) -> None:
    if not text:
        return
    day = _day(text) if _OF_DATES.search(heading) else None
    if day is not None:
        sheet.write_datetime(*at, day, formats["date"])
    elif _IN_UNIT.search(heading) and _NUMBER.fullmatch(text):
        sheet.write_number(*at, float(text), formats["text"])
    else:
        sheet.write_string(*at, visible(text)[:LONGEST], formats["text"])


def _day(text: str) -> date | None:
    """A date known to the day; a month or a year stays a text."""
    try:
        return date.fromisoformat(text) if len(text) == len("2024-05-31") else None
    except ValueError:
        return None


def _width(table: Table, column: int) -> int:
    longest = max((len(row[column]) for row in table.rows), default=0)
    return max(NARROWEST, min(WIDEST, max(longest, len(table.headings[column]) // 2) + 2))
