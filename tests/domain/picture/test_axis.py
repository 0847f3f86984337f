from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.picture.axis import Page, fitted

PAGE = Page(left=5, room=68, narrow=6, keep=4, sign=3)
lengths = st.lists(st.floats(0.001, 30.0), min_size=1, max_size=8)


def places_of(gaps: list[float]) -> list[float]:
    places = [0.0]
    for gap in gaps:
        places.append(places[-1] + gap)
    return places


def test_a_rope_whose_details_can_be_read_is_drawn_whole() -> None:
    """1.36 m on 68 columns: 20 mm a column, so that the shortest stretch of 120 mm has its 6 columns."""
    axis = fitted([0.0, 0.5, 0.62, 1.36], [0.5, 0.12, 0.74], PAGE)
    assert [axis.place(at_m) for at_m in (0.0, 0.12, 1.36)] == pytest.approx([5, 11, 73])
    assert axis.cuts() == ()


def test_a_long_plain_stretch_is_cut_and_both_sides_keep_one_scale() -> None:
    """0.5 m, 10 m, 0.5 m: 68 columns less 11 for the cut leave 57 for 1 m; 4 columns stand on each side."""
    axis = fitted([0.0, 0.5, 10.5, 11.0], [0.5, 0.5], PAGE)
    assert axis.step_m == pytest.approx(1 / 57)
    assert axis.place(0.5) == pytest.approx(5 + 28.5)
    assert axis.cuts()[0] == pytest.approx((37.5, 40.5))
    assert axis.place(10.5) == pytest.approx(44.5)
    assert axis.place(11.0) == pytest.approx(73)
    assert axis.left_out_m() == pytest.approx((10 - 8 / 57,))
    assert axis.at(39.0) is None


@given(gaps=lengths)
def test_every_place_is_drawn_in_order_inside_the_room_and_never_in_a_cut(gaps: list[float]) -> None:
    places = places_of(gaps)
    axis = fitted(places, gaps, PAGE)
    shown = [axis.place(at_m) for at_m in places]
    assert shown == sorted(shown)
    assert shown[0] == pytest.approx(5)
    assert shown[-1] == pytest.approx(73)
    for start, stop in axis.cuts():
        assert not any(start < place < stop for place in shown)


@given(gaps=lengths)
def test_what_is_drawn_and_what_is_left_out_make_up_the_rope(gaps: list[float]) -> None:
    places = places_of(gaps)
    axis = fitted(places, gaps, PAGE)
    drawn = sum(piece.to_m - piece.from_m for piece in axis.pieces)
    assert drawn + sum(axis.left_out_m()) == pytest.approx(places[-1])
    assert all(length > 0 for length in axis.left_out_m())


@given(gaps=lengths)
def test_places_on_one_piece_lie_to_scale_and_read_back(gaps: list[float]) -> None:
    places = places_of(gaps)
    axis = fitted(places, gaps, PAGE)
    for piece in axis.pieces:
        inside = [at_m for at_m in places if piece.from_m <= at_m <= piece.to_m]
        for before, after in pairwise(inside):
            assert axis.place(after) - axis.place(before) == pytest.approx((after - before) / axis.step_m, abs=1e-6)
        for at_m in inside:
            assert axis.at(axis.place(at_m)) == pytest.approx(at_m, abs=1e-9)
