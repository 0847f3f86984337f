"""Fields that only some categories ask for, and which fields a form shows for a category: as data."""

from __future__ import annotations

from collections.abc import Mapping

from gearlog.domain.item import DeviceFacts
from gearlog.domain.vocabulary import ROPE_CATEGORIES, Came, Category, Gate
from gearlog.services.forms import ITEM_FORM, ROPE_FORM, Field, FieldKind, words_of
from gearlog.services.reading_forms import Values

DEVICE_FORM: tuple[Field, ...] = (
    Field("size", "size", hint="as printed", group="Device"),
    Field("gate", "gate", FieldKind.CHOICE, words_of(Gate), group="Device"),
    Field("gate_open_strength", "strength, gate open", FieldKind.FORCE, hint="as printed: 9 kN", group="Device"),
    Field("minor_axis_strength", "strength across", FieldKind.FORCE, hint="as printed: 8 kN", group="Device"),
    Field("rope_least", "thinnest rope", FieldKind.LENGTH, hint="as printed: 10 mm", group="Device"),
    Field("rope_most", "thickest rope", FieldKind.LENGTH, hint="as printed: 13 mm", group="Device"),
    Field("sheave", "sheave's diameter", FieldKind.LENGTH, hint="45 mm", group="Device"),
)
"""Fields of hardware and worn gear."""

PAST_FORM: tuple[Field, ...] = (
    Field("contact", "supplier's contact", hint="or the maker's: name, address, telephone", group="What it is"),
    Field("came", "bought", FieldKind.CHOICE, words_of(Came), hint="used: its past is not known", group="Dates"),
    Field("colour_mark", "colour mark", hint="blue tape at end A", group="Where it is"),
)
"""Fields of every item beyond those of ``ITEM_FORM``."""

WHOLE_FORM = (*ITEM_FORM, *PAST_FORM, *DEVICE_FORM, *ROPE_FORM)
"""All fields of an item."""

SHOWN: Mapping[Category, frozenset[str]] = {
    Category.CONNECTOR: frozenset({"size", "gate", "gate_open_strength", "minor_axis_strength"}),
    Category.PULLEY: frozenset({"rope_most", "sheave"}),
    Category.RING_OR_SWIVEL: frozenset({"size"}),
    Category.ASCENDER_OR_DESCENDER: frozenset({"rope_least", "rope_most"}),
    Category.FRICTION_DEVICE: frozenset({"rope_least", "rope_most"}),
    Category.HARNESS: frozenset({"size"}),
    Category.HELMET: frozenset({"size"}),
    Category.LANYARD: frozenset({"size"}),
    Category.SLING: frozenset({"size"}),
    Category.OTHER: frozenset({"size", "rope_least", "rope_most"}),
}
"""The device's fields that matter for a category; those of a rope matter for the categories of rope."""

_DEVICE = frozenset(field.name for field in DEVICE_FORM)
_ROPE = frozenset(field.name for field in ROPE_FORM)
_DEFAULTS = {field.name: field.default for field in WHOLE_FORM}


def field_matters(name: str, values: Mapping[str, str]) -> bool:
    """Whether a form shows the field: its category asks for it, or something is typed into it or its like."""
    category = values.get("category", "")
    if name in _ROPE:
        return category in ROPE_CATEGORIES or any(_typed(field, values) for field in _ROPE)
    if name in _DEVICE:
        return name in _shown(category) or _typed(name, values)
    return True


def _typed(name: str, values: Mapping[str, str]) -> bool:
    return values.get(name, "") not in ("", _DEFAULTS[name])


def _shown(category: str) -> frozenset[str]:
    return next((names for one, names in SHOWN.items() if one == category), frozenset())


def read_device(values: Values) -> DeviceFacts | None:
    """What the form tells of a device; None where it tells nothing."""
    told = {name: values[name] for name in _DEVICE}
    if not any(told.values()):
        return None
    return DeviceFacts(**told | {"gate": Gate(told["gate"]) if told["gate"] else None})
