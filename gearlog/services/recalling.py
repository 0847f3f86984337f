"""Asking the diary what was made before on this rope or on one like it."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from gearlog.domain.item import Item
from gearlog.domain.plan import PlanInputs
from gearlog.domain.vocabulary import Condition
from gearlog.errors import Fault, InvalidRecordError
from gearlog.recall import Demand, Query, Recall, recall
from gearlog.services.plan_forms import plan_fields, rope_fault
from gearlog.services.reading_forms import BLANKS, Form, read_form
from gearlog.services.shelf import Shelf
from gearlog.splicing.method import Method


def recalled(inputs: PlanInputs, shelf: Shelf) -> Recall:
    """Earlier splices like the one that is planned."""
    items = shelf.items_by_id()
    return answered(Query.of_plan(inputs, items.get(inputs.rope_id)), shelf)


def answered(query: Query, shelf: Shelf, demand: Demand | None = None) -> Recall:
    """Earlier splices that answer a query; ``demand`` is what the lower bound of strength is to hold."""
    return recall(query, shelf.lessons.columns(), shelf.items_by_id(), shelf.lessons.tests(), demand)


def query_of(form: Form, methods: Sequence[Method], rope: Item | None) -> Query:
    """What a form asks, however little of it is filled; raises InvalidRecordError with every fault."""
    fields = [replace(field, required=False) for field in plan_fields(methods)]
    values, faults = read_form(fields, form)
    faults += rope_fault(values, rope)
    if not any(text.strip(BLANKS) for text in form.values()):
        way_out = "say at least the rope, its construction or the method"
        faults.append(Fault("rope", "is empty, as is all else", way_out))
    if faults:
        raise InvalidRecordError(tuple(faults))
    return Query(
        rope_id=rope.id if rope else "",
        maker=rope.maker if rope else "",
        model=rope.model if rope else "",
        construction=values["construction"],
        method=values["method"],
        diameter_m=values["diameter"].si if values["diameter"] else None,
        fibre=values["fibre"],
        condition=Condition(values["condition"]) if values["condition"] else None,
        eye_m=values["eye"].si if values["eye"] else None,
    )
