"""The splice's form: from typed text to a diary record, and back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

import msgspec
from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.identity import new_id
from gearlog.domain.item import Item
from gearlog.domain.plan import Mark, Plan
from gearlog.domain.splice import Measured, Splice
from gearlog.domain.validate import splice_faults
from gearlog.domain.vocabulary import Condition, Difficulty, End, Finish, Outcome
from gearlog.errors import Fault
from gearlog.services.cutting import cut_faults, cut_of
from gearlog.services.filling_forms import fill
from gearlog.services.forms import SPLICE_FORM, Field, FieldKind
from gearlog.services.reading_forms import BLANKS, Form, Values, read_form
from gearlog.splicing.method import Method
from gearlog.units.measure import Length

MEASURED = "measured."
"""What stands before a mark's id in the name of the field that tells what was measured there."""
OTHER_METHOD = ("other", "another method, told in the remarks")
"""A splice made by a method that the program does not hold is recorded all the same."""
_PLAIN = (
    "position", "method", "made_on", "finished_eye", "finished_length", "tools", "minutes", "made_by", "checked_by",
    "difficulty_words", "ease", "photos", "notes",
)  # fmt: skip
_WORDS = ("end", "outcome", "condition", "finish", "difficulties")


class Making(msgspec.Struct, frozen=True):
    """What a splice record takes from elsewhere than its form.

    Attributes:
        rope: the rope that the form names, or None when there is no such rope.
        plan: the plan it was made by, or None.
        methods: the methods that are loaded.
        corrects: the record that this one replaces, or None.
        reason: why it replaces it.
        left_m: the rope's length now, where it is known.
        now: the moment of saving.
        today: the day, used where the date cannot be read.
    """

    rope: Item | None
    plan: Plan | None
    methods: Sequence[Method]
    now: datetime
    today: date
    corrects: Splice | None = None
    reason: str = ""
    left_m: float | None = None


def splice_fields(methods: Sequence[Method], plan: Plan | None, *, also: str = "") -> tuple[Field, ...]:
    """The form's fields: methods to choose from, and one field for each mark of the plan.

    ``also`` is the method of an old record, which may not be loaded any more.
    """
    choices = {method.id: method.title for method in methods} | dict([OTHER_METHOD])
    if plan is not None:
        choices.setdefault(plan.method, plan.method_title)
    if also:
        choices.setdefault(also, also)
    named = (
        replace(field, choices=tuple(choices.items())) if field.name == "method" else field for field in SPLICE_FORM
    )
    return (*named, *([_mark_field(mark, plan.origin) for mark in plan.marks] if plan else ()))


def read_splice(form: Form, making: Making) -> tuple[Splice, list[Fault]]:
    """The record that the form tells, and every fault in it; one with faults must not be saved."""
    also = making.corrects.method if making.corrects else ""
    values, faults = read_form(splice_fields(making.methods, making.plan, also=also), form)
    if making.rope is None and values["rope"]:
        faults.append(Fault("rope", "is not the tag of a rope in the log", "type the tag of a rope, or add it first"))
    if making.plan is not None and values["method"] and values["method"] != making.plan.method:
        way_out = "choose the plan's method, or plan the splice anew with the other one"
        faults.append(Fault("method", f"is not that of the plan, {making.plan.method}", way_out))
    splice = _splice(values, making)
    told = {fault.field for fault in faults}
    found = (*splice_faults(splice), *cut_faults(splice, values["cut_length"], making.left_m))
    return splice, faults + [fault for fault in found if fault.field not in told]


def cut_told(form: Form, splice: Splice, making: Making) -> tuple[Event, ...]:
    """The cut that a form which reads tells of: on the day of the making, of a correction on the day it is written."""
    typed = form.get("cut_length", "").strip(BLANKS)
    if not typed:
        return ()
    day = PartialDate.of(making.today) if making.corrects else splice.made_on
    return (cut_of(splice, Length.read(typed), day, making.now),)


def splice_form(splice: Splice, rope_tag: str) -> dict[str, str]:
    """The form as it would have been typed for ``splice``."""
    fields = splice_fields((), splice.plan, also=splice.method)
    values: dict[str, object] = {name: getattr(splice, name) for name in (*_PLAIN, *_WORDS)}
    values |= {MEASURED + measured.mark: measured.at for measured in splice.measured}
    return fill(fields, values | {"rope": rope_tag})


def _mark_field(mark: Mark, origin: str) -> Field:
    words = f"measured at {mark.letter}, {mark.name}"
    return Field(MEASURED + mark.id, words, FieldKind.LENGTH, hint=f"from the {origin}", group="Measured", zero=True)


def _splice(values: Values, making: Making) -> Splice:
    base = making.corrects
    return Splice(
        id=new_id(),
        created_at=making.now,
        changed_at=making.now,
        rope_id=making.rope.id if making.rope else "",
        plan=making.plan,
        method_version=_method_version(values["method"], making),
        measured=_measured(values, making.plan),
        corrects=base.id if base else "",
        correction_reason=making.reason,
        **_words(values),
        **{name: values[name] for name in _PLAIN if name != "made_on"},
        made_on=values["made_on"] or PartialDate.of(making.today),
    )


def _words(values: Values) -> Values:
    return {
        "end": End(values["end"] or End.A),
        "outcome": Outcome(values["outcome"] or Outcome.GOOD),
        "condition": Condition(values["condition"] or Condition.NEW),
        "finish": tuple(Finish(word) for word in values["finish"]),
        "difficulties": tuple(Difficulty(word) for word in values["difficulties"]),
    }


def _measured(values: Values, plan: Plan | None) -> tuple[Measured, ...]:
    marks = plan.marks if plan else ()
    found = ((mark.id, values[MEASURED + mark.id]) for mark in marks)
    return tuple(Measured(mark=mark, at=at) for mark, at in found if at is not None)


def _method_version(method_id: str, making: Making) -> int:
    if making.plan is not None:
        return making.plan.method_version
    if making.corrects is not None and making.corrects.method == method_id:
        return making.corrects.method_version
    return next((method.version for method in making.methods if method.id == method_id), 1)
