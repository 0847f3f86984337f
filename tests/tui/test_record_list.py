from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from textual.app import App, ComposeResult

from gearlog.tui.text import cell, one_for_one, wrapped
from gearlog.tui.widgets.columns import Column, visible_columns, widths
from gearlog.tui.widgets.record_list import RecordList
from gearlog.tui.widgets.rows import Rows

Row = tuple[str, str]
COLUMNS = (
    Column[Row]("id", "number", lambda row: row[0], 6, right=True, order=lambda row: int(row[0])),
    Column[Row]("name", "name", lambda row: row[1], 10, share=1),
    Column[Row]("far", "far", lambda row: row[1], 10, needs=100),
)
MANY = tuple((str(number), f"rope {number % 97} [/]") for number in range(50_000))


def rows(*records: Row) -> Rows[Row]:
    made: Rows[Row] = Rows(lambda row: row[0], lambda row: row[1].lower())
    made.replace(records)
    return made


words = st.text(alphabet="ab ", max_size=6)


@given(st.lists(words, max_size=20), st.lists(words, max_size=4))
def test_the_filter_finds_rows_that_hold_every_word_however_it_was_typed(names: list[str], typed: list[str]) -> None:
    made = rows(*((str(place), name) for place, name in enumerate(names)))
    for text in typed:
        for end in range(len(text) + 1):
            made.filter(text[:end])
        assert [row[1] for row in made.shown] == [name for name in names if all(word in name for word in text.split())]


def test_filter_test_and_order_hold_together_and_new_rows_pass_them() -> None:
    made = rows(("1", "long line"), ("2", "short line"), ("3", "helmet"))
    made.narrow(lambda row: row[0] != "1")
    made.filter("LINE")
    assert made.shown == [("2", "short line")]
    made.sort(lambda row: row[1], "name", reverse=True)
    made.replace([*made.all, ("4", "work line"), ("5", "hat")])
    assert [row[0] for row in made.shown] == ["4", "2"]
    made.filter("")
    made.narrow(None)
    made.sort(None, "")
    assert [row[0] for row in made.shown] == ["1", "2", "3", "4", "5"]
    assert made.place("3") == 2
    assert made.place("9") is None


def test_columns_fill_the_width_and_the_far_ones_give_way() -> None:
    for width in (60, 80, 99, 100, 120):
        columns = visible_columns(COLUMNS, width)
        assert [column.key for column in columns] == (["id", "name", "far"] if width >= 100 else ["id", "name"])
        assert sum(widths(columns, width)) + 2 * len(columns) <= width


def test_two_ways_of_saying_one_thing_take_turns_by_the_room_and_are_sorted_as_one() -> None:
    long = Column[str]("method", "method", lambda row: f"{row} in full", 20, needs=30)
    short = Column[str]("method", "method", lambda row: row, 8, until=30)
    assert visible_columns((long, short), 29) == (short,)
    assert visible_columns((long, short), 30) == (long,)
    records = RecordList[str]((long, short), identity=lambda row: row, search=lambda row: row, empty="none")
    assert [records.sort_next(), records.sort_next()] == ["method", ""]


@given(st.text(max_size=40), st.integers(1, 30))
def test_a_cell_is_as_wide_as_its_column_and_holds_no_sign_that_a_terminal_obeys(text: str, width: int) -> None:
    from rich.cells import cell_len

    shown = cell(text, width)
    assert cell_len(shown) == width
    assert all(ord(sign) >= 32 and not 0x7F <= ord(sign) < 0xA0 for sign in shown)


@given(st.text(max_size=40))
def test_what_stands_in_a_field_keeps_its_length_and_holds_no_control_sign(text: str) -> None:
    shown = one_for_one(text)
    assert len(shown) == len(text)
    assert all(ord(sign) >= 32 and not 0x7F <= ord(sign) < 0xA0 for sign in shown)


def test_long_words_are_cut_into_lines_that_fit() -> None:
    assert wrapped("a " + "b" * 25, 10) == ("a", "b" * 10, "b" * 10, "b" * 5)


class ListApp(App[None]):
    """A list of fifty thousand rows."""

    def compose(self) -> ComposeResult:
        yield RecordList(
            COLUMNS, identity=lambda row: row[0], search=lambda row: row[1], empty="Nothing here yet: press a."
        )

    def get_theme_variable_defaults(self) -> dict[str, str]:
        from gearlog.tui.look import NIGHT

        return NIGHT


async def test_the_cursor_stays_on_its_record_in_fifty_thousand_rows_through_filter_and_order() -> None:
    async with ListApp().run_test(size=(80, 24)) as pilot:
        shown: RecordList[Row] = pilot.app.query_one(RecordList)
        assert "Nothing here yet" in shown.render_line(1).text
        shown.show(MANY)
        await pilot.press("end")
        assert shown.chosen_id == "49999"
        await pilot.pause()
        assert "49999" in shown.render_line(23).text
        await pilot.press("home", "pagedown", "down")
        assert shown.chosen_id == "24"
        shown.filter("rope 24")
        assert shown.chosen_id == "24"
        shown.sort_by("id", reverse=True)
        assert (shown.chosen_id, shown.rows.shown[-1]) == ("24", MANY[24])
        await pilot.pause()
        assert "[/]" in shown.render_line(23).text
        shown.filter("nothing like it")
        assert shown.chosen_id == ""
        assert "Nothing fits the filter" in shown.render_line(1).text
        shown.filter("")
        assert shown.chosen_id != ""
