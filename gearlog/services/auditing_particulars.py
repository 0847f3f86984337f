"""The particulars of an item in the order in which a record is read (EN 365:2004, 4.6; LOLER 1998, Schedule 1)."""

from __future__ import annotations

from collections.abc import Callable

from gearlog.domain.audited import Particular
from gearlog.domain.item import Item
from gearlog.domain.vocabulary import End, label
from gearlog.services.audit import Audited, construction_words, end_words
from gearlog.units import showing


def _item(name: str) -> Callable[[Audited], object]:
    return lambda audited: getattr(audited.item, name)


def _device(name: str) -> Callable[[Audited], object]:
    return lambda audited: getattr(audited.item.device, name)


def _rope(name: str) -> Callable[[Audited], object]:
    return lambda audited: getattr(audited.rope, name)


_OF_ALL: tuple[tuple[str, str, bool, Callable[[Audited], object]], ...] = (
    ("maker", "maker", True, _item("maker")),
    ("model", "model", True, _item("model")),
    ("contact", "contact of maker or supplier", True, _item("contact")),
    ("serial", "serial or batch", True, _item("serial")),
    ("standards", "standards claimed", True, _item("standards")),
    ("breaking_strength", "breaking strength as printed", True, _item("breaking_strength")),
    ("safe_working_load", "safe working load", False, _item("safe_working_load")),
    ("used_for", "used for", False, lambda audited: label(audited.item.used_for)),
    ("made_on", "made", True, _item("made_on")),
    ("bought_on", "bought", True, _item("bought_on")),
    ("first_used_on", "first used", True, _item("first_used_on")),
    ("life_limit", "limit of life", True, lambda audited: _life(audited.item)),
    ("life_end", "end of life", False, lambda audited: audited.row.life_end.on),
    ("assigned_to", "assigned to", False, _item("assigned_to")),
    ("kept_at", "kept at", False, _item("kept_at")),
    ("came", "bought new or used", False, lambda audited: label(audited.item.came) if audited.item.came else ""),
    ("colour_mark", "colour mark", False, _item("colour_mark")),
    ("former_tags", "former tags", False, lambda audited: ", ".join(audited.item.former_tags)),
    ("documents", "documents", False, lambda audited: "; ".join(audited.item.documents)),
)
_OF_DEVICE: tuple[tuple[str, str, bool, Callable[[Audited], object]], ...] = (
    ("size", "size", False, _device("size")),
    ("gate", "gate", False, lambda audited: _gate(audited.item)),
    ("gate_open_strength", "strength, gate open", False, _device("gate_open_strength")),
    ("minor_axis_strength", "strength across", False, _device("minor_axis_strength")),
    ("rope_least", "thinnest rope", False, _device("rope_least")),
    ("rope_most", "thickest rope", False, _device("rope_most")),
    ("sheave", "sheave's diameter", False, _device("sheave")),
)
_OF_ROPE: tuple[tuple[str, str, bool, Callable[[Audited], object]], ...] = (
    ("construction", "construction", False, construction_words),
    ("cover_fibre", "fibre of strands or cover", True, _rope("cover_fibre")),
    ("core_fibre", "fibre of core", False, _rope("core_fibre")),
    ("diameter", "diameter", True, _rope("diameter")),
    ("length_bought", "length as bought", True, _rope("length_bought")),
    ("length_now", "length now", False, lambda audited: _length(audited.length_now_m)),
    ("mass_per_length", "mass per length", False, _rope("mass_per_length")),
    ("end_a", "end A", False, lambda audited: end_words(audited, End.A)),
    ("end_b", "end B", False, lambda audited: end_words(audited, End.B)),
    ("cut_from", "cut from", False, lambda audited: audited.parent_tag),
)


def particulars(audited: Audited) -> tuple[Particular, ...]:
    """What is on record of an item, and what is asked for and is not; the notes last."""
    item = audited.item
    fields = (*_OF_ALL, *(_OF_DEVICE if item.device else ()), *(_OF_ROPE if item.rope else ()))
    made = [Particular(name, words, _text(value(audited)), asked) for name, words, asked, value in fields]
    return (*made, Particular("notes", "notes", audited.item.notes))


def _text(value: object) -> str:
    return "" if value is None else str(value)


def _life(item: Item) -> str:
    limit = item.life_limit
    if limit is None:
        return ""
    parts = [
        _years(limit.years_from_made, "made"),
        _years(limit.years_from_first_use, "first used"),
        f"read in {limit.read_at}" if limit.read_at else "",
    ]
    return ", ".join(part for part in parts if part)


def _gate(item: Item) -> str:
    return label(item.device.gate) if item.device is not None and item.device.gate is not None else ""


def _years(count: int | None, since: str) -> str:
    return "" if count is None else f"{count} {'year' if count == 1 else 'years'} from {since}"


def _length(metres: float | None) -> str:
    return "" if metres is None else showing.rope_length(metres)
