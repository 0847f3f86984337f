from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.item import Item, LifeLimit
from gearlog.domain.splice import Splice
from gearlog.domain.text_rules import text_faults
from gearlog.domain.validate import event_faults, item_faults, splice_faults
from gearlog.domain.vocabulary import End, Lay
from gearlog.errors import Fault
from gearlog.units.measure import Force, Length, LinearMass
from gearlog.units.visible import visible


def day(text: str) -> PartialDate:
    return PartialDate.read(text)


def one(faults: tuple[Fault, ...], field: str, reason: str) -> None:
    """Exactly one fault, on ``field``, told in one printable line with a way out."""
    assert [fault.field for fault in faults] == [field], faults
    assert reason in faults[0].reason
    assert faults[0].way_out
    assert visible(str(faults[0])) == str(faults[0])
    assert len(str(faults[0])) < 250


@pytest.mark.parametrize(
    ("change", "field", "reason"),
    [
        ({"tag": ""}, "tag", "is empty"),
        ({"tag": "two words"}, "tag", "space"),
        ({"tag": "LINE-9"}, "tag", "on another item"),
        ({"tag": "x" * 33}, "tag", "33 characters"),
        ({"name": ""}, "name", "is empty"),
        ({"name": " \u200b\u00a0"}, "name", "is empty"),
        ({"name": "x" * 201}, "name", "201 characters"),
        ({"maker": "Maker A\x1b[31m"}, "maker", "\\x1b"),
        ({"kept_at": "van\n2"}, "kept_at", "\\n"),
        ({"serial": "\ud800"}, "serial", "\\ud800"),
        ({"notes": "x" * 20_001}, "notes", "20,001 characters"),
        ({"notes": "bell \x07"}, "notes", "\\x07"),
        ({"documents": ("a\x00b",)}, "documents", "\\x00"),
        ({"documents": ("a",) * 101}, "documents", "101 entries"),
        ({"made_on": day("2025")}, "made_on", "has not come yet"),
        ({"bought_on": day("2024-06-03")}, "bought_on", "has not come yet"),
        ({"made_on": day("2024-05"), "bought_on": day("2024-04-30")}, "bought_on", "before it was made"),
        ({"made_on": day("2024-05-02"), "first_used_on": day("2024-05-01")}, "first_used_on", "before it was made"),
        ({"bought_on": day("2024-05-02"), "first_used_on": day("2023")}, "first_used_on", "before it was bought"),
        ({"breaking_strength": Force.read("24 kN"), "safe_working_load": Force.read("5400 lbf")},
         "safe_working_load", "not below the breaking strength"),
        ({"breaking_strength": Force.read("24 kN"), "safe_working_load": Force.read("24 kN")},
         "safe_working_load", "not below the breaking strength"),
        ({"breaking_strength": Force.read("0 kN", zero=True)}, "breaking_strength", "is zero"),
        ({"life_limit": LifeLimit(years_from_made=0)}, "years_from_made", "cannot be right"),
        ({"life_limit": LifeLimit(years_from_first_use=51)}, "years_from_first_use", "cannot be right"),
        ({"life_limit": LifeLimit(years_from_made=10, read_at="\x1b")}, "read_at", "\\x1b"),
    ],
)  # fmt: skip
def test_an_item_that_breaks_a_rule_is_told_its_field_and_a_way_out(
    rope: Item, change: dict[str, Any], field: str, reason: str
) -> None:
    one(item_faults(replace(rope, **change), taken_tags=["line-9"]), field, reason)


@pytest.mark.parametrize(
    ("change", "field", "reason"),
    [
        ({"construction": "knitted"}, "construction", "'knitted' is not known"),
        ({"construction": "three-strand", "strands": 4}, "strands", "4 cannot be right"),
        ({"strands": 15}, "strands", "15 cannot be right"),
        ({"strands": 2}, "strands", "2 cannot be right"),
        ({"strands": 1600}, "strands", "1600 cannot be right"),
        ({"lay": Lay.TIGHT}, "lay", "does not belong"),
        ({"construction": "hollow-braid", "core_fibre": "polyester"}, "core_fibre", "has no core"),
        ({"cover_fibre": "wool"}, "cover_fibre", "'wool' is not known"),
        ({"diameter": Length.read("12.7 cm")}, "diameter", "12.7 cm cannot be right"),
        ({"diameter": Length.read("0.5 mm")}, "diameter", "0.5 mm cannot be right"),
        ({"length_bought": Length.read("45 m").read("0 m", zero=True)}, "length_bought", "0 m cannot be right"),
        ({"length_bought": Length.read("11000 m")}, "length_bought", "11000 m cannot be right"),
        ({"mass_per_length": LinearMass.read("7.5 lb/ft")}, "mass_per_length", "solid rod"),
        ({"mass_per_length": LinearMass.read("368 g/m")}, "mass_per_length", "solid rod"),
        ({"elongation_percent": 101.0}, "elongation_percent", "101"),
        ({"elongation_percent": float("nan")}, "elongation_percent", "nan"),
        ({"cut_from": Length.read("3 m")}, "cut_from", "without the rope"),
    ],
)
def test_facts_of_a_rope_that_cannot_be_right_are_told(
    rope: Item, change: dict[str, Any], field: str, reason: str
) -> None:
    assert rope.rope is not None
    one(item_faults(replace(rope, rope=replace(rope.rope, **change)), taken_tags=()), field, reason)


def test_what_may_be_right_is_let_through(rope: Item) -> None:
    assert rope.rope is not None
    facts = replace(
        rope.rope,
        construction="hollow-braid",
        lay=Lay.LOOSE,
        strands=12,
        cover_fibre="hmpe",
        mass_per_length=LinearMass.read("7.5 lb/100ft"),
        parent_id="spool",
        cut_from=Length.read("0 m", zero=True),
    )
    item = replace(
        rope,
        name="[/] [red] \u05d7\u05d1\u05dc \u7e04 e\u0301 \U0001f333 'x'; --",
        notes="two\nlines\tand more",
        made_on=day("2024"),
        bought_on=day("2024-03"),
        first_used_on=day("2024-06-02"),
        rope=facts,
    )
    assert item_faults(item, taken_tags=["line-2"]) == ()
    assert item_faults(replace(rope, rope=None), taken_tags=()) == ()


@pytest.mark.parametrize(
    "change",
    [
        {"diameter": Length.read("1 mm")},
        {"diameter": Length.read("100 mm")},
        {"length_bought": Length.read("10000 m")},
        {"elongation_percent": 0.0},
        {"elongation_percent": 100.0},
        {"strands": 8},
        {"strands": 32},
        {"mass_per_length": LinearMass.read("366 g/m")},  # twice a solid rod of 1450 kg/m3, 12.7 mm: 367.4 g/m
    ],
)
def test_the_limits_themselves_are_let_through(rope: Item, change: dict[str, Any]) -> None:
    assert rope.rope is not None
    assert item_faults(replace(rope, rope=replace(rope.rope, **change)), taken_tags=()) == ()


@pytest.mark.parametrize(
    ("construction", "way_out"),
    [("three-strand", "type 3, or leave it empty"), ("cover-loaded", "an even number from 8 to 32, such as 16")],
)
def test_a_wrong_strand_count_is_told_which_can_be_right(rope: Item, construction: str, way_out: str) -> None:
    assert rope.rope is not None
    facts = replace(rope.rope, construction=construction, strands=7)
    (fault,) = item_faults(replace(rope, rope=facts), taken_tags=())
    assert way_out in fault.way_out


def test_all_faults_are_gathered_not_only_the_first(rope: Item) -> None:
    faults = item_faults(replace(rope, tag="", name="", maker="\x00", made_on=day("2030")), taken_tags=())
    assert [fault.field for fault in faults] == ["tag", "name", "maker", "made_on"]


@pytest.mark.parametrize(
    ("change", "field", "reason"),
    [
        ({"end": End.BETWEEN}, "position", "is empty"),
        ({"position": Length.read("12 m")}, "position", "at end A"),
        ({"minutes": -1}, "minutes", "-1 cannot be right"),
        ({"minutes": 6001}, "minutes", "6001 cannot be right"),
        ({"ease": 0}, "ease", "0 is not on the scale"),
        ({"ease": 6}, "ease", "6 is not on the scale"),
        ({"on": "2024-06-09"}, "made_on", "has not come yet"),
        ({"finished_eye": Length.read("0 mm", zero=True)}, "finished_eye", "is zero"),
        ({"corrects": "splice-0"}, "correction_reason", "is empty"),
        ({"tools": ("fid\x1b",)}, "tools", "\\x1b"),
        ({"difficulty_words": "x" * 201}, "difficulty_words", "201 characters"),
    ],
)
def test_a_splice_that_breaks_a_rule_is_told_its_field_and_a_way_out(
    splice: Callable[..., Splice], change: dict[str, Any], field: str, reason: str
) -> None:
    one(splice_faults(splice(**change)), field, reason)


def test_texts_and_lists_may_be_as_long_as_their_limits(rope: Item) -> None:
    item = replace(rope, name="x" * 200, notes="x" * 20_000, documents=("a",) * 100)
    assert item_faults(item, taken_tags=()) == ()
    (line,) = item_faults(replace(rope, name="x" * 201), taken_tags=())
    (notes,) = item_faults(replace(rope, notes="x" * 20_001), taken_tags=())
    assert line.way_out == "shorten it to 200, and put the rest in the notes"
    assert notes.way_out == "shorten it to 20,000"


def test_a_wrong_next_date_is_answered_with_one_that_would_be_taken(event: Callable[..., Event]) -> None:
    wrong = event("examined", "2024-05-20", next_due_on=day("2024-05-01"))
    (fault,) = event_faults(wrong)
    assert event_faults(replace(wrong, next_due_on=day(fault.way_out.rpartition(" ")[2]))) == ()


def test_a_splice_needs_a_method_and_may_hold_the_limits_themselves(splice: Callable[..., Splice]) -> None:
    one(splice_faults(replace(splice(), method="")), "method", "is empty")
    assert splice_faults(splice(end=End.BETWEEN, position=Length.read("12 m"), minutes=0, ease=5)) == ()
    assert splice_faults(splice(minutes=6000, ease=1, notes="two\nlines")) == ()


@pytest.mark.parametrize(
    ("kind", "change", "field", "reason"),
    [
        ("washed", {"on": "2024-06-09"}, "happened_on", "has not come yet"),
        ("cut", {"length": Length.read("1 m")}, "cut_end", "not one of the two ends"),
        ("cut", {"cut_end": "between"}, "cut_end", "not one of the two ends"),
        ("cut", {"cut_end": "A", "length": Length.read("0 m", zero=True)}, "length", "is zero"),
        ("washed", {"cut_end": "A"}, "cut_end", "belongs to a cut"),
        ("washed", {"length": Length.read("1 m")}, "length", "belongs to a cut"),
        ("washed", {"next_due_on": day("2024-12-01")}, "next_due_on", "belongs to an examination"),
        ("examined", {"next_due_on": day("2024-05-20")}, "next_due_on", "is not after"),
        ("examined", {"next_due_on": day("2023")}, "next_due_on", "is not after"),
        ("examined", {"next_due_on": day("2042-11-20")}, "next_due_on", "more than five years on"),
        ("dropped", {"by": "\u2028"}, "by", "\\u2028"),
    ],
)
def test_an_event_that_breaks_a_rule_is_told_its_field_and_a_way_out(
    event: Callable[..., Event], kind: str, change: dict[str, Any], field: str, reason: str
) -> None:
    one(event_faults(event(kind, **change)), field, reason)


def test_events_that_may_be_right_are_let_through(event: Callable[..., Event]) -> None:
    assert event_faults(event("cut", cut_end="B", length=Length.read("1.2 m"))) == ()
    assert event_faults(event("cut", cut_end="B")) == ()
    assert event_faults(event("examined", by="competent person", next_due_on=day("2024-11"))) == ()
    assert event_faults(event("examined", "2024", next_due_on=day("2024"))) == ()
    assert event_faults(event("examined", "2024-05-20", next_due_on=day("2029-05-20"))) == ()
    assert event_faults(event("examined", "2024-05-20", next_due_on=day("2029-06-20"))) != ()


@given(st.text(max_size=220))
def test_any_text_is_either_saved_or_told_in_a_printable_line(text: str) -> None:
    faults = list(text_faults(LifeLimit(read_at=text)))
    for fault in faults:
        assert visible(str(fault)) == str(fault)
    if text.isprintable() and len(text) <= 200:
        assert faults == []
