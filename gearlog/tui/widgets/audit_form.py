"""The form of an audit: names of the log are ticked, not typed; only what matters is asked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar

from msgspec.structs import replace
from textual.binding import BindingType

from gearlog.services.forms import Field, FieldKind
from gearlog.tui.keys import bindings
from gearlog.tui.widgets.form_beside import FormBeside

FEW = 12  # names that are ticked; more are typed
HINTS = {"since": "the last one written"}
CSV = frozenset({"csv"})
ON_PAPER = {"paper": frozenset({"pdf", "html", "xlsx"}), "pages": frozenset({"pdf", "html"}), "table": CSV, "bom": CSV}
"""Fields that only some formats use."""


class AuditForm(FormBeside):
    """The form; the page beside it is scrolled from here."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("audit-form")


def arranged(fields: Sequence[Field], known: Mapping[str, Sequence[str]]) -> tuple[Field, ...]:
    """The fields; a set whose names are few is ticked, and hints are as short as the form is narrow."""
    return tuple(_ticked(field, known.get(field.name, ())) for field in (_short(field) for field in fields))


def _short(field: Field) -> Field:
    return replace(field, hint=HINTS.get(field.name, field.hint))


def _ticked(field: Field, names: Sequence[str]) -> Field:
    """A name with a comma in it would be two ticks, so such a set is typed."""
    if field.kind is not FieldKind.LIST or not 0 < len(names) <= FEW or any("," in name for name in names):
        return field
    return replace(field, kind=FieldKind.CHOICES, choices=tuple((name, name) for name in names))


def matters(known: Mapping[str, Sequence[str]], name: str, form: Mapping[str, str]) -> bool:
    """Whether a field is asked: a set that has names, paper where there is paper; what was typed is never hidden."""
    if name in ON_PAPER:
        return form.get("format", "") in ON_PAPER[name]
    return name not in known or bool(known[name]) or bool(form.get(name))
