"""Lines of a page: folded to the width, aligned, people's text made harmless."""

from __future__ import annotations

import pytest
from rich.cells import cell_len

from gearlog.domain.recalled import Recall, Summary
from gearlog.domain.vocabulary import Unit
from gearlog.tui.widgets.lines import Column, paragraph, table
from gearlog.tui.widgets.recall_view import RecallPage

ODD = ("[/] [red]", "\x1b[31m red", "x" * 10_000, "שלום עולם", "綱" * 60, "tab\there", "")
COLUMNS = (Column("mark"), Column("from end", right=True), Column("do"))


@pytest.mark.parametrize("words", ODD)
@pytest.mark.parametrize("width", [40, 60, 118])
def test_no_line_is_wider_than_the_screen_nor_obeyed_by_a_terminal(words: str, width: int) -> None:
    lines = (*paragraph(words, width, first="STOP  "), *table(COLUMNS, [("a", "504 mm", words)], width))
    assert all(cell_len(line.text) <= width for line in lines)
    assert all(line.text.isprintable() for line in lines)


def test_further_lines_of_a_paragraph_are_set_in_under_its_beginning() -> None:
    lines = paragraph("the tail goes in here and comes out there", 24, first="1.  ")
    assert [line.text for line in lines] == ["1.  the tail goes in", "    here and comes out", "    there"]


def test_numbers_stand_at_the_right_and_only_first_lines_bear_the_key() -> None:
    rows = [("a", "4 mm", "a mark with many words to be folded"), ("b", "1297 mm", "short")]
    lines = table(COLUMNS, rows, 42, keys=["one", "two"])
    assert [line.text[6:14] for line in lines if line.key] == ["    4 mm", " 1297 mm"]
    assert [line.key for line in lines] == ["", "one", "", "two"]


def test_words_without_room_stand_below_their_row() -> None:
    lines = table(COLUMNS, [("a", "504 mm", "cut here")], 24)
    assert [line.text for line in lines[-2:]] == ["a       504 mm", "    cut here"]


def test_the_outcomes_of_last_time_add_up_to_what_was_made() -> None:
    """Those given up were left out of this page, so that three made and one good told of no other."""
    summary = Summary(scope="in this rope", made=6, good=1, with_remark=1, remade=1, failed=1, cut_off=1, given_up=1)
    page = RecallPage(Recall(matches=(), summary=summary, same_rope=summary), Unit.METRIC, 16)
    made = next(line.text for line in page._summary("Last time", summary, 200) if line.text.strip().startswith("made"))
    told = [int(part.split()[0]) for part in made.split("made", 1)[1].split(", ")]
    assert sum(told[1:]) == told[0] == summary.made
    assert "1 given up" in made


def test_lines_that_were_written_stay_lines_under_their_name() -> None:
    """Remarks of several steps came from the bench as one run with a sign for each line's end."""
    lines = paragraph("step 2: cold\nstep 5: tape wet", 40, first="remarks   ")
    assert [line.text for line in lines] == ["remarks   step 2: cold", "          step 5: tape wet"]
    assert [line.text for line in paragraph("", 40, first="x ")] == ["x "]
