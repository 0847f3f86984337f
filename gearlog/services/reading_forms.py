"""Reading a form: typed text becomes values by each field's kind, and every fault is gathered."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from gearlog.domain.dates import PartialDate
from gearlog.domain.fibres import fibre
from gearlog.errors import Fault, GearlogError, ReadingError
from gearlog.services.forms import FIBRES, Field, FieldKind
from gearlog.units.measure import Force, Length, LinearMass
from gearlog.units.quoting import quoted
from gearlog.units.reading import read_number, read_whole

Form = Mapping[str, str]
"""What was typed, by field name."""
Values = dict[str, Any]
"""What it means, by field name: a value of the field's kind, ``None`` (or empty) where nothing was typed."""

BLANKS = " \t\r\n"
"""Signs that nobody means to type at either end of a field; all others are kept."""


def read_form(fields: Sequence[Field], form: Form) -> tuple[Values, list[Fault]]:
    """Every field's value and every fault; a field with a fault has the value of an empty one."""
    values: Values = {}
    faults = _strangers(fields, form)
    for field in fields:
        try:
            values[field.name] = read_field(field, form.get(field.name, ""))
        except ReadingError as error:
            values[field.name] = _EMPTY.get(field.kind)
            faults.append(fault_of(field.name, error))
    return values, faults


def read_field(field: Field, text: str) -> Any:
    """The value of one field; raises ReadingError with the reason and, after '; ', the way out."""
    typed = text.strip(BLANKS)
    if typed:
        return _READERS[field.kind](field, typed)
    if field.required:
        raise ReadingError(f"is empty; {_advice(field)}")
    return _EMPTY.get(field.kind)


def field_fault(fields: Sequence[Field], name: str, text: str) -> str | None:
    """What is wrong with ``text`` in the field ``name``, in one line, or None; for a form that checks as one types."""
    field = next((field for field in fields if field.name == name), None)
    if field is None:
        return f"{name} is not a field of this form"
    try:
        read_field(field, text)
    except ReadingError as error:
        return error.message
    return None


def fault_of(name: str, error: ReadingError) -> Fault:
    """The error of one field as a fault; its message is 'reason; way out'."""
    reason, _, way_out = error.message.rpartition("; ")
    return Fault(name, reason or error.message, way_out)


def _strangers(fields: Sequence[Field], form: Form) -> list[Fault]:
    known = {field.name for field in fields}
    way_out = f"use one of: {', '.join(field.name for field in fields)}"
    typed = (name for name, text in form.items() if name not in known and text.strip(BLANKS))
    return [Fault(name, "is not a field of this form", way_out) for name in typed]


def _advice(field: Field) -> str:
    if field.choices:
        return _choose(field)
    return f"type it, such as {field.hint}" if field.hint else f"type the {field.label}"


def _choose(field: Field) -> str:
    return f"choose one of: {', '.join(value for value, _ in field.choices)}"


def _choice(field: Field, typed: str) -> str:
    wanted = " ".join(typed.casefold().split())
    for value, label in field.choices:
        if wanted in {value.casefold(), label.casefold()}:
            return value
    if field.choices is FIBRES and (known := _alias(wanted)):
        return known
    raise ReadingError(f"{quoted(typed)} is not on the list; {_choose(field)}")


def _alias(wanted: str) -> str:
    try:
        return fibre(wanted).id
    except GearlogError:
        return ""


def _several(field: Field, typed: str) -> tuple[str, ...]:
    chosen = (_choice(field, part) for part in _list(field, typed))
    return tuple(dict.fromkeys(chosen))


def _list(field: Field, typed: str) -> tuple[str, ...]:
    del field
    parts = (part.strip(BLANKS) for part in typed.split(","))
    return tuple(part for part in parts if part)


def _length(field: Field, typed: str) -> Length:
    return Length.read(typed, zero=field.zero)


def _whole(field: Field, typed: str) -> int:
    return read_whole(typed, least=field.least, most=field.most, what=field.label)


def _number(field: Field, typed: str) -> float:
    return float(read_number(typed, least=field.least, most=field.most, what=field.label))


def _text(field: Field, typed: str) -> str:
    del field
    return typed


_READERS: dict[FieldKind, Callable[[Field, str], Any]] = {
    FieldKind.TEXT: _text,
    FieldKind.WORDS: _text,
    FieldKind.TAG: _text,
    FieldKind.CHOICE: _choice,
    FieldKind.CHOICES: _several,
    FieldKind.LIST: _list,
    FieldKind.LENGTH: _length,
    FieldKind.FORCE: lambda _field, typed: Force.read(typed),
    FieldKind.LINEAR_MASS: lambda _field, typed: LinearMass.read(typed),
    FieldKind.DATE: lambda _field, typed: PartialDate.read(typed),
    FieldKind.WHOLE: _whole,
    FieldKind.NUMBER: _number,
}
_EMPTY: dict[FieldKind, Any] = {
    FieldKind.TEXT: "",
    FieldKind.WORDS: "",
    FieldKind.TAG: "",
    FieldKind.CHOICE: "",
    FieldKind.CHOICES: (),
    FieldKind.LIST: (),
}
"""The value of an empty field; None for kinds that are not listed."""
