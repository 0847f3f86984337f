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


@pytest.mark.parametrize("amount", ["301 mm", "(9 15/16 in)", "22.5 kN", "1/2 in,", "10.343 m."])
def test_a_number_is_not_parted_from_its_unit(amount: str) -> None:
    """At the bench '301' at the end of a line reads as inches as well as millimetres."""
    for before in range(40):
        lines = folded(f"{'x' * before} from mark b {amount} on", 30)
        assert sum(amount in line for line in lines) == 1
    assert folded(amount, 7)[-1].endswith(amount.rsplit(maxsplit=1)[-1])  # no room for all of it: parted after all
