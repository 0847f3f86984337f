"""Filling a form: values become the text that would have been typed for them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from enum import StrEnum

from gearlog.services.forms import Field


def blank(fields: Sequence[Field]) -> dict[str, str]:
    """A new form: every field with what it starts with."""
    return {field.name: field.default for field in fields}


def fill(fields: Sequence[Field], values: Mapping[str, object]) -> dict[str, str]:
    """Every field's text; a value that is missing or unknown leaves its field empty."""
    return {field.name: as_text(values.get(field.name)) for field in fields}


def as_text(value: object) -> str:
    """One value as it would be typed: lists with commas, numbers without an exponent."""
    if value is None:
        return ""
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, str):
        return value
    if isinstance(value, float):
        return f"{value:.6f}".rstrip("0").rstrip(".")
    return ", ".join(as_text(part) for part in value) if isinstance(value, Iterable) else str(value)
