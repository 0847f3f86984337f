from __future__ import annotations

import json
import math
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.dates import PartialDate
from gearlog.domain.vocabulary import Unit
from gearlog.reports.jsons import to_json
from gearlog.units.measure import Force, Length, LinearMass


class Thing(msgspec.Struct, frozen=True):
    zeta: Length | None
    alpha: float
    made: PartialDate


@dataclass(frozen=True)
class Row:
    unit: Unit
    due_on: date | None
    names: tuple[str, ...]


def test_records_keep_the_order_of_their_keys_and_measures_tell_text_and_si() -> None:
    """Half an inch is 12.7 mm by definition; 0.1 + 0.2 must not be rounded."""
    thing = Thing(Length.read("1/2 in"), 0.1 + 0.2, PartialDate.read("2024-05"))
    by_hand = """\
{
  "zeta": {
    "text": "1/2 in",
    "si": 0.0127,
    "unit": "m"
  },
  "alpha": 0.30000000000000004,
  "made": "2024-05"
}"""
    assert to_json(thing) == by_hand


def test_dataclasses_exact_numbers_and_other_measures_are_written_too() -> None:
    row = Row(Unit.METRIC, date(2024, 5, 31), ("a", "b"))
    shown = json.loads(to_json([row, Decimal("2.5"), Fraction(1, 4), Force.read("24 kN"), LinearMass.read("68 g/m")]))
    assert shown == [
        {"unit": "metric", "due_on": "2024-05-31", "names": ["a", "b"]},
        2.5,
        0.25,
        {"text": "24 kN", "si": 24000.0, "unit": "N"},
        {"text": "68 g/m", "si": 0.068, "unit": "kg/m"},
    ]


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_refused(number: float) -> None:
    with pytest.raises(ValueError, match="JSON"):
        to_json({"length_m": number})


@given(st.recursive(st.none() | st.booleans() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
                    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
                    max_leaves=8))  # fmt: skip
def test_everything_comes_back_as_it_was_and_nothing_is_obeyed_by_a_terminal(value: object) -> None:
    text = to_json(value)
    assert json.loads(text.encode()) == value
    assert not any(sign in text for sign in "\x1b\x9b\x7f\u202e\u200b\u2028")


def test_half_a_surrogate_pair_is_carried_by_its_number() -> None:
    assert to_json(["\ud800"]).encode() == b'[\n  "\\ud800"\n]'
