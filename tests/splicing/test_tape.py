"""Marks on the user's tape: no named length is ever shorter than its rule, and the marks still add up."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.vocabulary import Unit
from gearlog.splicing.tape import nearest, rounded_up
from tests.splicing.ropes import INCH, plan

DIVISION = {(Unit.METRIC, 16): 0.001, (Unit.IMPERIAL, 16): INCH / 16, (Unit.IMPERIAL, 32): INCH / 32}
CASES = st.sampled_from(list(DIVISION))


@given(
    st.sampled_from(["hollow-eye", "cover-eye", "laid-eye"]),
    st.floats(0.003, 0.06),
    st.floats(0.02, 2.0),
    CASES,
)
def test_lengths_go_up_and_marks_stay_near(name: str, size: float, eye: float, case: tuple[Unit, int]) -> None:
    division = DIVISION[case]
    made = plan(name, diameter_m=size, eye_m=eye, unit=case[0], tape_parts=case[1])
    for length in made.lengths:
        assert length.tape_m is not None
        assert length.length_m - 1e-12 <= length.tape_m
    for mark in made.marks:
        steps = mark.shown_m / division
        assert steps == pytest.approx(round(steps), abs=1e-6)
        assert abs(mark.shown_m - mark.at_m) < 20 * division  # at most the roundings of all lengths in it


def test_a_tail_of_seventy_two_millimetres_is_never_shown_shorter_in_inches() -> None:
    """6 d of 12 mm is 2.8346 in; 2 13/16 in would be 71.4 mm, less than the rule asks."""
    made = plan("laid-eye", unit=Unit.IMPERIAL)
    assert "at least 2 7/8 in" in " ".join(made.steps)


def test_bury_and_loop_add_up_on_the_tape() -> None:
    """1/2 in rope: bury 42 d = 21 in; eye 5.9 in is marked at 5 7/8, so the loop is 11 3/4 in."""
    made = plan("hollow-eye", diameter_m=0.5 * INCH, eye_m=5.9 * INCH, unit=Unit.IMPERIAL)
    shown = {mark.id: Fraction(round(mark.shown_m / INCH * 16), 16) for mark in made.marks}
    assert shown == {"taper": Fraction(21, 2), "1": 21, "2": 21 + Fraction(47, 4), "3": 42 + Fraction(47, 4)}


@pytest.mark.parametrize(("value", "up", "near"), [(1.0, 1, 1), (1.01, 2, 1), (1.5, 2, 2), (1.49, 2, 1)])
def test_up_and_nearest(value: float, up: int, near: int) -> None:
    exact = Fraction(str(value))
    assert rounded_up(exact, Fraction(1)) == up
    assert nearest(exact, Fraction(1)) == near
