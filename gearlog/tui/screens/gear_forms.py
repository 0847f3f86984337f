"""The forms of the gear screen: which fields they show when, and what saving them does."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.vocabulary import ROPE_CATEGORIES, EventKind
from gearlog.services.forms import EVENT_FORM, ITEM_FORM, ROPE_FORM
from gearlog.tui.screens.form_screen import Task

if TYPE_CHECKING:
    from gearlog.services.book import Book

FIELDS = (*ITEM_FORM, *ROPE_FORM)
_DEFAULTS = {field.name: field.default for field in FIELDS}
_ROPE_FIELDS = frozenset(field.name for field in ROPE_FORM)
_OWN = ("tag", "serial", "parent", "cut_from", "parent_end")  # what no copy shares with its model
ADD, COPY, CHANGE, EVENT, PIECE = "gear.add", "gear.copy", "gear.change", "gear.event", "gear.piece"
"""Names of drafts; those of one item go on with a colon and its id."""


def item_field_matters(name: str, values: Mapping[str, str]) -> bool:
    """The rope's fields matter for what may be made of rope, and where something is typed into one of them."""
    if name not in _ROPE_FIELDS:
        return True
    typed = any(values.get(field, "") not in ("", _DEFAULTS[field]) for field in _ROPE_FIELDS)
    return typed or values.get("category", "") in ROPE_CATEGORIES


def event_field_matters(name: str, values: Mapping[str, str]) -> bool:
    """An examination sets the next date, a cut takes length off an end."""
    kinds = {"next_due_on": EventKind.EXAMINED, "length": EventKind.CUT, "cut_end": EventKind.CUT}
    return name not in kinds or values.get("kind", "") == kinds[name] or bool(values.get(name, ""))


def task_of(book: Book, draft: str) -> Task:
    """The task that a draft's name tells, for example ``gear.change:9f3a``; raises NotFoundError, KeyError."""
    name, _, item_id = draft.partition(":")
    makers = {ADD: _add, COPY: _copy, CHANGE: _change, EVENT: _event, PIECE: _piece}
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
        relevant=item_field_matters,
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
    return _item_task(book, draft, "Add a piece cut from a rope", book.gear.form_for_piece(item_id), told)


def _change(book: Book, item_id: str, draft: str) -> Task:
    from dataclasses import replace

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
        told=f"{item.tag}, {item.name}",
        help="What happened decides where the item stands: after a fall or a shock it is in quarantine until it is "
        "released. An examination can set the date of the next one. Nothing is deleted from a history.",
    )
