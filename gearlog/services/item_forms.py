"""The item's form: from typed text to an item, and back."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from msgspec.structs import replace

from gearlog.domain.identity import new_id, tag_from
from gearlog.domain.item import Item, LifeLimit, RopeFacts
from gearlog.domain.validate import item_faults
from gearlog.domain.vocabulary import ROPE_CATEGORIES, Came, Category, EndState, Lay, Use
from gearlog.errors import Fault
from gearlog.services.device_forms import DEVICE_FORM, WHOLE_FORM, read_device
from gearlog.services.filling_forms import fill
from gearlog.services.forms import ROPE_FORM
from gearlog.services.reading_forms import BLANKS, Form, Values, read_form

FORM = WHOLE_FORM
"""All fields of an item, a rope's included."""
_PLAIN = (
    "name", "maker", "model", "serial", "standards", "breaking_strength", "safe_working_load", "made_on",
    "bought_on", "first_used_on", "assigned_to", "kept_at", "documents", "notes", "colour_mark",
    "contact",
)  # fmt: skip
_ROPE_PLAIN = (
    "construction", "strands", "cover_fibre", "core_fibre", "diameter", "length_bought", "mass_per_length",
    "elongation_percent", "elongation_at", "cut_from",
)  # fmt: skip
_LIFE = {
    "years_from_made": "life_years_from_made",
    "years_from_first_use": "life_years_from_first_use",
    "read_at": "life_read_at",
}
_FIELD_OF = {
    "life_limit": "life_years_from_made",
    "parent_id": "parent",
    **_LIFE,
}
"""Field of the record -> field of the form, where they differ."""
_UNSAID = frozenset({"construction", "end_a", "end_b"})


def read_item(form: Form, *, base: Item | None, parent: Item | None, tags: Collection[str], now: datetime) -> (
    tuple[Item, list[Fault]]
):  # fmt: skip
    """The item that the form tells, and every fault in it; an item with faults must not be saved.

    Args:
        form: typed text by field.
        base: the item that is changed, or None for a new one.
        parent: what ``parent`` names, already found; None without one.
        tags: tags of all other items.
        now: the moment of saving.
    """
    values, faults = read_form(FORM, form)
    faults += _rope_faults(values, form)
    item = _item(values, base, parent, now)
    if not item.tag:
        item = replace(item, tag=tag_from(item.name, tags))
    item = replace(item, former_tags=_former_tags(item.tag, base))
    told = {fault.field for fault in faults}
    found = (_on_form(fault) for fault in item_faults(item, taken_tags=tags))
    return item, faults + [fault for fault in found if fault.field not in told]


def item_form(item: Item, parent_tag: str = "") -> dict[str, str]:
    """The form as it would have been typed for ``item``."""
    limit, rope = item.life_limit, item.rope
    values: dict[str, object] = {name: getattr(item, name) for name in (*_PLAIN, "tag", "category", "used_for", "came")}
    if item.device is not None:
        values |= {field.name: getattr(item.device, field.name) for field in DEVICE_FORM}
    if limit is not None:
        values |= {field: getattr(limit, name) for name, field in _LIFE.items()}
    if rope is not None:
        values |= {name: getattr(rope, name) for name in (*_ROPE_PLAIN, "lay", "end_a", "end_b")}
        values["parent"] = parent_tag
    return fill(FORM, values)


def _item(values: Values, base: Item | None, parent: Item | None, now: datetime) -> Item:
    return Item(
        id=base.id if base else new_id(),
        created_at=base.created_at if base else now,
        changed_at=now,
        tag=values["tag"],
        category=Category(values["category"] or Category.OTHER),
        used_for=Use(values["used_for"] or Use.PEOPLE),
        life_limit=_life(values),
        rope=_rope(values, parent),
        device=read_device(values),
        came=Came(values["came"]) if values["came"] else None,
        **{name: values[name] for name in _PLAIN},
    )


def _former_tags(tag: str, base: Item | None) -> tuple[str, ...]:
    """A tag that is given up still leads to the item."""
    borne = (*base.former_tags, base.tag) if base is not None else ()
    return tuple(dict.fromkeys(one for one in borne if one.casefold() != tag.casefold()))


def _life(values: Values) -> LifeLimit | None:
    told = {name: values[field] for name, field in _LIFE.items()}
    return LifeLimit(**told) if any(told.values()) else None


def _rope(values: Values, parent: Item | None) -> RopeFacts | None:
    if not values["construction"]:
        return None
    return RopeFacts(
        lay=Lay(values["lay"]) if values["lay"] else None,
        end_a=EndState(values["end_a"] or EndState.BARE),
        end_b=EndState(values["end_b"] or EndState.BARE),
        parent_id=parent.id if parent else "",
        **{name: values[name] for name in _ROPE_PLAIN},
    )


def _rope_faults(values: Values, form: Form) -> list[Fault]:
    """What is typed of a rope is never dropped in silence for want of a construction."""
    typed = [field.label for field in ROPE_FORM
             if field.name not in _UNSAID and form.get(field.name, "").strip(BLANKS)]  # fmt: skip
    if not typed or form.get("construction", "").strip(BLANKS):
        return []
    way_out = "choose the construction, or empty the fields of the rope"
    if values["category"] and Category(values["category"]) not in ROPE_CATEGORIES:
        way_out = f"choose a construction and a category of rope such as {Category.LIFELINE}, or empty those fields"
    return [Fault("construction", f"is empty though {typed[0]} is filled", way_out)]


def _on_form(fault: Fault) -> Fault:
    """The fault under the name that the form's field has."""
    name = fault.field.rpartition(".")[2]
    return Fault(_FIELD_OF.get(name, name), fault.reason, fault.way_out)
