"""Cutting an end off a rope, or trimming it: the rope is shorter, and what lies on it keeps its metre."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec.structs import replace

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import EndView
from gearlog.domain.vocabulary import End, EventKind
from gearlog.errors import Fault, InvalidRecordError
from gearlog.services.event_forms import read_event
from gearlog.services.forms import Field, FieldKind
from gearlog.services.reading_forms import Form, read_form
from gearlog.services.shelf import Shelf
from gearlog.units.exact import exact_metres
from gearlog.units.measure import Length
from gearlog.upkeep.account import END, TRIM

CUT_FORM: tuple[Field, ...] = (
    Field("cut_as", "what", FieldKind.CHOICE, ((END, "end, with what is on it"), (TRIM, "trim")), required=True,
          default=TRIM),
    Field("cut_end", "from end", FieldKind.CHOICE, (("A", "A"), ("B", "B")), required=True),
    Field("length", "length of rope", FieldKind.LENGTH, hint="all of it, rope in a splice too: 1.2 m"),
    Field("from_throat", "or from the throat", FieldKind.LENGTH, hint="of a splice with its plan: 300 mm", zero=True),
    Field("happened_on", "on", FieldKind.DATE, hint="2024-05-31", required=True),
    Field("by", "by", hint="who cut it"),
    Field("notes", "notes", FieldKind.WORDS),
)  # fmt: skip
"""Fields of a cut after which nothing goes on as an item; a piece that does is added by the form of an item."""


def read_cut(item: Item, form: Form, ends: Mapping[End, EndView], shelf: Shelf) -> Event:
    """The cut that the form tells; raises InvalidRecordError with every fault."""
    if item.rope is None:
        raise InvalidRecordError((Fault("item", "is no rope", "choose a rope"),))
    values, faults = read_form(CUT_FORM, form)
    length = values["length"]
    if values["from_throat"] is not None and values["cut_end"]:
        length, more = _from_throat(values["from_throat"], length, ends[End(values["cut_end"])])
        faults += more
    if length is None and not faults:
        faults.append(Fault("length", "is empty", "type how much rope was cut off, such as 1.2 m"))
    if faults:
        raise InvalidRecordError(tuple(faults))
    kept = {name: form.get(name, "") for name in ("happened_on", "by", "notes", "cut_end")}
    typed = {**kept, "kind": EventKind.CUT.value, "length": length.text}
    made = read_event(item.id, typed, today=shelf.clock.today(), now=shelf.moment())
    return replace(made, cut_as=values["cut_as"])


def _from_throat(typed: Length, length: Length | None, view: EndView) -> tuple[Length | None, list[Fault]]:
    """All the rope that goes when it is cut so far behind the throat: the splice's own rope and what was measured."""
    if length is not None:
        return length, [Fault("from_throat", "is given beside the length", "leave one of the two empty")]
    plan = view.splice.plan if view.splice is not None else None
    if plan is None or plan.rope_used_m is None:
        reason = "cannot be counted: no splice with its plan stands at this end"
        return None, [Fault("from_throat", reason, "type the length of all the rope that goes")]
    return exact_metres(Fraction(plan.rope_used_m).limit_denominator(10**9) + typed.exact), []
