"""The formula language."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.splicing.formula import FormulaError, Quantity, evaluate, metres, put_in

NAMES = {"d": metres(0.012), "eye": metres(0.15), "n": Quantity(Fraction(12)), "zero": Quantity(Fraction(0))}


@pytest.mark.parametrize(
    ("text", "value", "dimension"),
    [
        ("2 * d + eye", Fraction(174, 1000), 1),
        ("-(d - eye) / 3", Fraction(46, 1000), 1),
        ("n / 4", Fraction(3), 0),
        ("eye / d", Fraction(25, 2), 0),
        ("0.1 + 0.2", Fraction(3, 10), 0),
    ],
)
def test_worked_exactly(text: str, value: Fraction, dimension: int) -> None:
    assert evaluate(text, NAMES) == Quantity(value, dimension)


@pytest.mark.parametrize(
    "text",
    [
        "", "2 +", "d ** 2", "10**10**10", "d + 1", "eye - n", "n / zero", "f(d)", "d.real", "d[0]", "lambda: d", "'d'",
        "True", "d if n else eye", "unknown", "d == eye", "d // 2", "d % 2", "(" * 300, "1e999 * d", "~n", "(d := 1)",
    ],
)  # fmt: skip
def test_refused_with_a_sentence(text: str) -> None:
    with pytest.raises(FormulaError) as caught:
        evaluate(text, NAMES)
    assert caught.value.message


@given(st.text(max_size=250))
def test_any_text_is_worked_or_refused(text: str) -> None:
    try:
        evaluate(text, NAMES)
    except FormulaError as error:
        assert error.message


def test_values_are_put_in_by_whole_names() -> None:
    assert put_in("2 * d + eye + d2", {"d": "12 mm", "eye": "150 mm"}) == "2 * 12 mm + 150 mm + d2"
