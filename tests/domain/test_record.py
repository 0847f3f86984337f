from __future__ import annotations

import copy
import json
import pickle
from collections.abc import Callable
from typing import Any

import msgspec
import pytest
from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.item import Item, LifeLimit
from gearlog.domain.record import from_plain, from_text, to_plain, to_text
from gearlog.domain.splice import Measured, Splice
from gearlog.domain.vocabulary import Difficulty, Finish
from gearlog.errors import InvalidRecordError
from gearlog.units.measure import Force, Length, LinearMass


@pytest.fixture
def full(rope: Item) -> Item:
    assert rope.rope is not None
    facts = replace(rope.rope, mass_per_length=LinearMass.read("7.5 lb/100ft"), cut_from=Length.read("0 m", zero=True))
    return replace(
        rope,
        name="[/] [red] \u05d7\u05d1\u05dc \u7e04 e\u0301",
        breaking_strength=Force.read("5400 lbf"),
        made_on=PartialDate.read("2023-05"),
        life_limit=LifeLimit(years_from_made=10),
        documents=("a.pdf", "b.pdf"),
        rope=facts,
    )


def test_a_record_goes_through_json_and_comes_back_the_same(
    full: Item, event: Callable[..., Event], splice: Callable[..., Splice]
) -> None:
    made = splice(
        measured=(Measured(mark="b", at=Length.read("20 15/16 in")),),
        finish=(Finish.WHIPPING,),
        difficulties=(Difficulty.STIFF_ROPE,),
    )
    cut = event("cut", length=Length.read("5' 6\""), cut_end="A")
    for record in (full, made, cut):
        plain = json.loads(json.dumps(to_plain(record)))
        assert from_plain(type(record), plain) == record


def test_quantities_and_dates_are_stored_as_they_were_typed(full: Item) -> None:
    plain = to_plain(full)
    assert plain["breaking_strength"] == "5400 lbf"
    assert plain["made_on"] == "2023-05"
    assert plain["rope"]["mass_per_length"] == "7.5 lb/100ft"
    assert plain["category"] == "lifeline"


@pytest.mark.parametrize(
    ("change", "field", "reason"),
    [
        ({"breaking_strength": "22 kn"}, "breaking_strength", "write kN"),
        ({"breaking_strength": 24}, "breaking_strength", "expected text, got int"),
        ({"breaking_strength": "1,5 kN"}, "breaking_strength", "comma"),
        ({"made_on": "31.05.2024"}, "made_on", "is not a date"),
        ({"category": "hat"}, "category", "hat"),
        ({"name": None}, "name", "str"),
        ({"rope": {"construction": "cover-loaded", "diameter": "12 kN"}}, "rope.diameter", "is a force"),
        ({"documents": ["a", 3]}, "documents", "str"),
    ],
)
def test_a_damaged_record_is_refused_with_the_path_of_the_fault(
    full: Item, change: dict[str, Any], field: str, reason: str
) -> None:
    with pytest.raises(InvalidRecordError) as refusal:
        from_plain(Item, to_plain(full) | change)
    (fault,) = refusal.value.faults
    assert fault.field.startswith(field)
    assert reason in fault.reason


def test_a_missing_field_and_what_is_no_record_are_refused(full: Item) -> None:
    plain = to_plain(full)
    del plain["tag"]
    nothing: list[object] = [plain, [], None, "text"]
    for damaged in nothing:
        with pytest.raises(InvalidRecordError):
            from_plain(Item, damaged)


def test_a_quantity_is_its_kind_and_text_and_can_be_copied() -> None:
    half = Length.read("1/2 in")
    assert half == Length.read(" 1/2 in ") == copy.deepcopy(half) == pickle.loads(pickle.dumps(half))  # noqa: S301
    assert half != Length.read("12.7 mm")
    assert Length.read("5 m") != Force.read("5 N")
    assert len({half, Length.read("1/2 in")}) == 1
    assert str(half) == "1/2 in"
    assert (half.si, half.unit) == (0.0127, "in")
    with pytest.raises(AttributeError):
        half.text = "1 in"  # type: ignore[misc]


def test_text_in_the_order_of_keys_is_what_plain_values_give(full: Item) -> None:
    plain = msgspec.json.encode(to_plain(full), order="sorted")
    assert to_text(full, ordered=True) == plain
    assert json.loads(to_text(full)) == json.loads(plain)
    assert list(json.loads(plain)) == sorted(json.loads(to_text(full)))


def test_a_record_goes_through_text_as_through_plain_values(full: Item) -> None:
    assert from_text(Item, to_text(full)) == full
    for change in ({"name": 7}, {"rope": {"construction": 1}}, {"made_on": "May"}, {"category": "spoon"}):
        damaged = to_plain(full) | change
        with pytest.raises(InvalidRecordError) as by_text:
            from_text(Item, msgspec.json.encode(damaged))
        with pytest.raises(InvalidRecordError) as by_values:
            from_plain(Item, damaged)
        assert by_text.value.faults == by_values.value.faults
    for spoiled in (b'{"id": "\xff"}', b'{"id": "a', b"[]"):
        with pytest.raises(InvalidRecordError):
            from_text(Item, spoiled)
