from __future__ import annotations

import csv
import io
import math
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.dates import PartialDate
from gearlog.domain.vocabulary import Category
from gearlog.reports.csvs import Cell, to_csv
from gearlog.units.measure import Length


def test_a_list_is_the_bytes_written_by_hand() -> None:
    rows: list[tuple[Cell, ...]] = [
        ("line-3", 'said "good", ok', Length.read("1/2 in"), date(2024, 5, 31), 12.7, None),
        ("縄", "two\nlines", PartialDate.read("2024-05"), Category.HITCH_CORD, -3, Decimal("0.10")),
        ("", 1e-07, 1e22, 0.1, datetime(2024, 5, 31, 12, tzinfo=UTC), "-3.5"),
    ]
    by_hand = (
        "tag,remark,a,b,c,d\r\n"
        'line-3,"said ""good"", ok",1/2 in,2024-05-31,12.7,\r\n'
        "縄,two\\nlines,2024-05,hitch-cord,-3,0.10\r\n"
        ",0.0000001,10000000000000000000000,0.1,2024-05-31T12:00:00+00:00,-3.5\r\n"
    )
    assert to_csv(("tag", "remark", "a", "b", "c", "d"), rows) == by_hand.encode()
    assert to_csv(("tag",), [], bom=True) == b"\xef\xbb\xbftag\r\n"


@pytest.mark.parametrize(
    ("typed", "cell"),
    [
        ("=1+1", "'=1+1"),
        ("=cmd|' /C calc'!A0", "'=cmd|' /C calc'!A0"),
        ("+49 170 1234", "'+49 170 1234"),
        ("-not a number", "'-not a number"),
        ("@sum(1)", "'@sum(1)"),
        ("\t=1", "'\\t=1"),
        ("\r=1", "'\\r=1"),
        ("  =1", "'  =1"),
        ("\uff1d1", "'\uff1d1"),
        ("-3", "-3"),
        ("+4.25", "+4.25"),
        ("-1e-3", "-1e-3"),
        ("-3-2", "'-3-2"),
        ("1-2", "1-2"),
        ("[/] [red]", "[/] [red]"),
        ("\x1b[2J", "\\x1b[2J"),
        ("\u202eabc", "\\u202eabc"),
        ("half\ud800", "half\\ud800"),
    ],
)
def test_what_a_spreadsheet_would_run_is_made_harmless_and_numbers_stay(typed: str, cell: str) -> None:
    read = list(csv.reader(io.StringIO(to_csv((typed,), [(typed,)]).decode(), newline="")))
    assert read == [[cell], [cell]]


@given(st.lists(st.lists(st.text(), min_size=2, max_size=2), max_size=5))
def test_any_text_comes_back_in_its_own_cell_and_none_begins_a_formula(rows: list[list[str]]) -> None:
    read = list(csv.reader(io.StringIO(to_csv(("a", "b"), rows).decode(), newline="")))
    assert [len(row) for row in read] == [2] * (len(rows) + 1)
    begins = {cell[0] for row in read for cell in row if cell and not cell[1:].replace(".", "").isdigit()}
    assert not begins & set("=+-@\t\r")


@pytest.mark.parametrize("number", [math.nan, math.inf, Decimal("NaN")])
def test_what_is_no_number_is_refused(number: float) -> None:
    with pytest.raises(ValueError, match="no number"):
        to_csv(("a",), [(number,)])
