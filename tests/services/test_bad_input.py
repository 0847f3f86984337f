"""Whatever is typed into any field of any form: a clear line for that field, or it is kept as typed."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.plan import Plan
from gearlog.errors import GearlogError, InvalidRecordError
from gearlog.services.book import Book, memory_book
from gearlog.services.forms import EVENT_FORM, ITEM_FORM, PLAN_FORM, ROPE_FORM, SPLICE_FORM, Field
from gearlog.services.reading_forms import BLANKS, field_fault
from tests.making import made_form

BAD = (
    "0", "-1 mm", "12 bananas", "1/0 in", "10**10**10", "1,5 m", "nan m", "x" * 10_000, "\x1b[31mred\x1b[0m",
    "[/]", "[red]", "\u202eabc", "\u7e69\u7d22", "\udcff", "2024-02-30", "\u0663 mm", "9" * 400, "\u00bd in",
)  # fmt: skip
ALL = {"gear": (*ITEM_FORM, *ROPE_FORM), "event": EVENT_FORM, "plan": PLAN_FORM, "splice": SPLICE_FORM}
ROPE = {"name": "line", "category": "lifeline", "construction": "hollow-braid", "diameter": "12 mm"}
EYE = {"method": "hollow-eye", "eye": "150 mm", "rope": "line"}


def is_one_line(text: str) -> bool:
    """Whether no sign in it is obeyed by a terminal: control, half a character, line or paragraph separator."""
    return not {unicodedata.category(sign) for sign in text} & {"Cc", "Cs", "Zl", "Zp"}


def saves(book: Book, plan: Plan) -> dict[str, Callable[[dict[str, str]], object]]:
    rope = book.gear.by_tag("line")
    happened = {"kind": "washed", "happened_on": "2025-05-01"}
    spliced = made_form(book, plan)
    return {
        "gear": lambda form: book.gear.add(ROPE | {"name": "other"} | form),
        "event": lambda form: book.gear.record_event(rope.id, happened | form),
        "plan": lambda form: book.planner.plan(EYE | form),
        "splice": lambda form: book.diary.record(spliced | form, plan),
    }


def some_plan(book: Book) -> Plan:
    book.gear.add(ROPE)
    return book.planner.plan(EYE)


@pytest.mark.parametrize("text", BAD)
def test_odd_input_is_refused_by_its_field_or_kept_as_typed(book: Book, text: str) -> None:
    plan = some_plan(book)
    for form, save in saves(book, plan).items():
        for field in ALL[form]:
            try:
                save({field.name: text})
            except InvalidRecordError as refused:
                for fault in refused.faults:
                    line = str(fault)
                    assert is_one_line(line), (form, field.name, line)
                    assert len(line) < 400, (form, field.name, len(line))
                    assert fault.reason
                    assert fault.way_out
            except GearlogError as refused:
                assert is_one_line(refused.message), (form, field.name)


def test_names_of_any_signs_are_kept_and_found(book: Book) -> None:
    for name in ("[/]", "[red]", "\u202eabc", "\u7e69\u7d22 \u7e69", "a\u0301", "\U0001f9d7"):
        item = book.gear.add({"name": name, "category": "other"})
        assert book.gear.item(item.id).name == name
        assert book.gear.form_of(item.id)["name"] == name
    assert len({row.tag.casefold() for row in book.gear.rows()}) == len(book.gear.rows())


@given(st.sampled_from([field for fields in ALL.values() for field in fields]), st.text(max_size=60))
def test_checking_a_field_as_one_types_never_fails(field: Field, text: str) -> None:
    told = field_fault((field,), field.name, text)
    assert told is None or is_one_line(told)


@given(st.dictionaries(st.sampled_from([field.name for field in ALL["gear"]]), st.text(max_size=20)))
def test_a_form_of_any_text_is_saved_whole_or_not_at_all(form: dict[str, str]) -> None:
    book = memory_book()
    try:
        item = book.gear.add({"name": "line", "category": "lifeline"} | form)
    except InvalidRecordError:
        assert book.gear.rows() == ()
    else:
        assert item.notes == form.get("notes", "").strip(BLANKS)
        assert [row.item for row in book.gear.rows()] == [item]
