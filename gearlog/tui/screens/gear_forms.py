"""The forms of the gear screen: which fields they show when, and what saving them does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.vocabulary import EventKind
from gearlog.services.device_forms import WHOLE_FORM, field_matters
from gearlog.services.forms import EVENT_FORM, Field
from gearlog.tui.screens.form_screen import Task
from gearlog.tui.screens.gear_life_forms import after_entry, after_piece, life_makers
from gearlog.tui.widgets.form import Check

if TYPE_CHECKING:
    from gearlog.services.book import Book

GROUPS = ("What it is", "Rope", "Device", "Strength", "Dates", "Where it is")
FIELDS = tuple(sorted(WHOLE_FORM, key=lambda field: GROUPS.index(field.group)))
"""All fields of an item, what a rope or a device adds behind what it is."""
_OWN = ("tag", "serial", "parent", "cut_from", "parent_end", "cut_on", "colour_mark")  # no copy shares them
SERIALS = (
    Field("count", "how many", hint="10; or only their serials", group="How many"),
    Field("serials", "serials or batches", hint="F101, F102 or F101..F110", group="How many"),
)
ADD, COPY, CHANGE, EVENT, PIECE, MANY = (
    "gear.add", "gear.copy", "gear.change", "gear.event", "gear.piece", "gear.many",
)  # fmt: skip
"""Names of drafts; those of one item go on with a colon and its id."""
_MANY = frozenset(field.name for field in SERIALS)
_ONE_ONLY = frozenset({"serial", "parent", "cut_from", "parent_end", "cut_on"})  # fields that several do not share
_OF_KIND = {
    "next_due_on": {EventKind.EXAMINED},
    "length": {EventKind.CUT},
    "cut_end": {EventKind.CUT},
    "to": {EventKind.LOANED, EventKind.ASSIGNED},
}
"""Fields of an entry that only some kinds ask for."""


def event_field_matters(name: str, values: Mapping[str, str]) -> bool:
    """An examination sets the next date, a cut takes length off an end, a loan goes to somebody."""
    return name not in _OF_KIND or values.get("kind", "") in _OF_KIND[name] or bool(values.get(name, ""))


def task_of(book: Book, draft: str) -> Task:
    """The task that a draft's name tells, for example ``gear.change:9f3a``; raises NotFoundError, KeyError."""
    name, _, item_id = draft.partition(":")
    own = {ADD: _add, COPY: _copy, CHANGE: _change, EVENT: _event, PIECE: _piece, MANY: _many}
    makers = {**own, **life_makers()}
    return makers[name](book, item_id, draft)


def _item_task(book: Book, draft: str, title: str, start: Mapping[str, str], told: str = "") -> Task:
    return Task(
        place="gear",
        title=title,
        fields=FIELDS,
        start=start,
        draft=draft,
        save=book.gear.add,
        check=lambda name, text: book.gear.field_fault(FIELDS, name, text),
        relevant=field_matters,
        told=told,
        help="Only name and category are needed; what is not known stays empty and is shown as a gap. For a rope "
        "choose its category first, then the fields of the rope appear below. Quantities need their unit.",
    )


def _add(book: Book, _: str, draft: str) -> Task:
    return _item_task(book, draft, "Add an item", book.gear.blank_form())


def _copy(book: Book, item_id: str, draft: str) -> Task:
    item = book.gear.item(item_id)
    start = book.gear.form_of(item_id) | dict.fromkeys(_OWN, "")
    return _item_task(book, draft, "Add an item like another", start, f"Copied from {item.tag}: change what differs.")


def _piece(book: Book, item_id: str, draft: str) -> Task:
    item = book.gear.item(item_id)
    told = f"Cut from {item.tag}: give its name and length; the cut enters the history of {item.tag}."
    task = _item_task(book, draft, "Cut a piece from a rope", book.gear.form_for_piece(item_id), told)
    return replace(task, consequence=lambda form: after_piece(book, item_id, form))


def _many(book: Book, item_id: str, draft: str) -> Task:
    """Equal items in one go, like the chosen one or afresh."""
    start = book.gear.blank_form()
    told = "Each gets a tag of its own; a tag typed here is counted on."
    if item_id:
        item = book.gear.item(item_id)
        start = book.gear.form_of(item_id) | dict.fromkeys(_OWN, "")
        told = f"Like {item.tag}. {told}"
    fields = (*SERIALS, *(field for field in FIELDS if field.name not in _ONE_ONLY))

    def save(values: dict[str, str]) -> Item:
        form = {name: text for name, text in values.items() if name not in _MANY}
        return book.gear.add_many(form, values.get("serials", ""), values.get("count", ""))[0]

    task = _item_task(book, draft, "Add several alike", start, told)
    check: Check = lambda name, text: None if name in _MANY else book.gear.field_fault(FIELDS, name, text)  # noqa: E731
    return replace(task, fields=fields, save=save, check=check)


def _change(book: Book, item_id: str, draft: str) -> Task:
    item = book.gear.item(item_id)
    task = _item_task(book, draft, "Change an item", book.gear.form_of(item_id), f"{item.tag}, {item.name}")

    def save(values: dict[str, str]) -> Item:
        return book.gear.change(item_id, values)

    return replace(task, save=save)


def _event(book: Book, item_id: str, draft: str) -> Task:
    item = book.gear.item(item_id)

    def save(values: dict[str, str]) -> Event:
        return book.gear.record_event(item_id, values)

    return Task(
        place="gear",
        title="Record what happened",
        fields=EVENT_FORM,
        start=book.gear.blank_event(),
        draft=draft,
        save=save,
        check=lambda name, text: book.gear.field_fault(EVENT_FORM, name, text),
        relevant=event_field_matters,
        consequence=lambda form: after_entry(book, item_id, form),
        told=f"{item.tag}, {item.name}",
        help="What happened decides where the item stands: after a fall or a shock it is in quarantine until it is "
        "released. An examination can set the date of the next one. Nothing is deleted from a history.",
    )
