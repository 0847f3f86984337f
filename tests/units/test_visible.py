from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.units.visible import cells, folded, visible


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("[/] [red] 10.5 mm", "[/] [red] 10.5 mm"),
        ("a\x1b[31mb", "a\\x1b[31mb"),
        ("two\nlines\tand\x00", "two\\nlines\\tand\\x00"),
        ("abc\u202edcb", "abc\\u202edcb"),
        ("zero\u200bwidth\ufeff", "zero\\u200bwidth\\ufeff"),
        ("\x9b31m", "\\x9b31m"),
        ("half\ud800", "half\\ud800"),
        ("\u2028", "\\u2028"),
        ("ropé שלום 縄", "ropé שלום 縄"),
    ],
)
def test_signs_that_a_terminal_obeys_are_written_out_and_all_others_kept(typed: str, shown: str) -> None:
    assert visible(typed) == shown


@pytest.mark.parametrize(("text", "taken"), [("", 0), ("rope", 4), ("縄", 2), ("e\u0301", 1), ("\uff46", 2), ("é", 1)])
def test_wide_signs_take_two_cells_and_marks_upon_a_letter_none(text: str, taken: int) -> None:
    assert cells(text) == taken


@given(st.text(max_size=120), st.integers(20, 80), st.integers(0, 9))
def test_folding_loses_nothing_and_never_gets_too_wide(text: str, width: int, inset: int) -> None:
    lines = folded(text, width, inset=inset)
    assert all(cells(line) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(visible(text).split())


def test_folded_lines_are_set_in_below_the_first() -> None:
    assert folded("one two three four", 9, inset=2) == ("one two", "  three", "  four")
