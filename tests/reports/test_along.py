"""A drawn rope: everything in the column that its metre falls in, at any width, and nothing drawn that is not there."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.vocabulary import End, EndState
from gearlog.reports.along import Ends, Thing, column, rope_lines

FOOT = Fraction("0.3048")  # m
BARE = Ends({End.A: EndState.BARE, End.B: EndState.BARE})


def finding(start: float, stop: float, sign: str = "!", number: str = "1", weight: int = 2) -> Thing:
    return Thing(start=Fraction(str(start)), stop=Fraction(str(stop)), sign=sign, number=number, weight=weight)


def test_forty_metres_in_forty_columns_put_each_metre_in_its_column() -> None:
    ends = Ends({End.A: EndState.SPLICED, End.B: EndState.WHIPPED}, frozenset({End.B}))
    things = [
        Thing(start=0, stop=1.3, sign="=", weight=1),
        finding(10, 10, "!", "1"),
        finding(20.5, 24, "?", "2"),
        finding(39.99, 40, "!", "3"),
    ]
    assert rope_lines(40, ends, things, 46) == (
        "             1         2                  3",
        "  (==--------!---------?????--------------!#/~",
        "   A 0       10        20        30  40 m B",
    )


def test_the_ruler_counts_in_feet_for_who_measures_so() -> None:
    _, _, ruler = rope_lines(45.72, BARE, (), 66, imperial=True)
    assert ruler.strip().startswith("A 0")
    assert ruler.endswith("150 ft B")
    for feet in ("20", "40", "60", "80", "100", "120"):
        assert ruler.index(f" {feet} ") + 1 == 3 + column(int(feet) * FOOT, Fraction("45.72"), 60)


def test_the_gravest_sign_of_a_column_is_shown_and_no_number_is_lost() -> None:
    numbers, rope, _ = rope_lines(100, BARE, [finding(50, 50, "!", "1", 3), finding(50.1, 50.1, ".", "2", 1)], 56)
    assert rope.count("!") == 1
    assert "." not in rope
    assert numbers.split() == ["1", "2"]


def test_without_length_or_room_nothing_is_drawn() -> None:
    assert rope_lines(0, BARE, (), 80) == ()
    assert rope_lines(40, BARE, (), 10) == ()


@given(
    length=st.fractions(Fraction(1, 100), 400),
    places=st.lists(st.tuples(st.fractions(0, 1), st.fractions(0, 1)), max_size=30),
    width=st.integers(26, 200),
)
def test_any_rope_fills_its_width_and_every_place_is_drawn(
    length: Fraction, places: list[tuple[Fraction, Fraction]], width: int
) -> None:
    things = [
        Thing(start=length * min(pair), stop=length * max(pair), sign="!", number=str(number))
        for number, pair in enumerate(places)
    ]
    numbers, rope, ruler = rope_lines(length, BARE, things, width)
    assert len(rope) == width
    assert max(len(numbers), len(ruler)) <= width
    drawn = {place for place, sign in enumerate(rope[3:-3]) if sign == "!"}
    room = width - 6
    said = {
        place
        for thing in things
        for place in range(column(thing.start, length, room), column(thing.stop, length, room) + 1)
    }
    assert drawn == said
