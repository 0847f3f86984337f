"""Narrowing the diary: by rope, construction, method, maker, outcome, difficulty, date and words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from msgspec.structs import replace

from gearlog.domain.item import Item
from gearlog.errors import Fault, InvalidRecordError
from gearlog.services.forms import DIARY_FILTERS, Field
from gearlog.services.reading_forms import Form, Values, read_form
from gearlog.services.splice_forms import OTHER_METHOD
from gearlog.services.views import SpliceRow
from gearlog.splicing.method import Method

Test = Callable[[SpliceRow], bool]


def filter_fields(methods: Sequence[Method]) -> tuple[Field, ...]:
    """The filters with the methods to choose from."""
    choices = (*((method.id, method.title) for method in methods), OTHER_METHOD)
    return tuple(replace(field, choices=choices) if field.name == "method" else field for field in DIARY_FILTERS)


def narrowed(
    rows: Iterable[SpliceRow], filters: Form, fields: Sequence[Field], ropes: Mapping[str, Item]
) -> tuple[SpliceRow, ...]:
    """The rows that pass every filter, in their order; raises InvalidRecordError with every fault of the filters."""
    values, faults = read_form(fields, filters)
    start, end = values["made_from"], values["made_to"]
    if start is not None and end is not None and end.latest() < start.earliest():
        faults.append(Fault("made_to", f"{end} is before {start}", "type a later day, or leave one of the two empty"))
    if faults:
        raise InvalidRecordError(tuple(faults))
    tests = _tests(values, ropes)
    return tuple(row for row in rows if all(test(row) for test in tests))


def _tests(values: Values, ropes: Mapping[str, Item]) -> list[Test]:
    """One test for each filter that is filled."""
    rope, maker = values["rope"].casefold(), values["made_by"].casefold()
    words = values["words"].lower().split()
    outcomes, difficulties = frozenset(values["outcome"]), frozenset(values["difficulty"])
    method, construction = values["method"], values["construction"]
    return [
        test
        for test, wanted in (
            (lambda row: rope in row.tag.casefold() or rope in row.rope_name.casefold(), rope),
            (lambda row: _construction(ropes.get(row.splice.rope_id)) == construction, construction),
            (lambda row: row.splice.method == method, method),
            (lambda row: row.splice.made_by.casefold() == maker, maker),
            (lambda row: row.outcome.value in outcomes, outcomes),
            (lambda row: not difficulties.isdisjoint(row.splice.difficulties), difficulties),
            (lambda row: row.made_on.latest() >= values["made_from"].earliest(), values["made_from"]),
            (lambda row: row.made_on.earliest() <= values["made_to"].latest(), values["made_to"]),
            (lambda row: all(word in row.search for word in words), words),
        )
        if wanted
    ]


def _construction(rope: Item | None) -> str:
    return rope.rope.construction if rope and rope.rope else ""
