"""Gear: every item in a list, the card of one beside it, and what one does with it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content

from gearlog.domain.event import Event
from gearlog.domain.vocabulary import Category, Status, label
from gearlog.errors import GearlogError
from gearlog.services.forms import words_of
from gearlog.services.views import Card, GearRow
from gearlog.tui.dialogs.choose import Choice, ChooseDialog
from gearlog.tui.dialogs.reason import ReasonDialog
from gearlog.tui.keys import bindings
from gearlog.tui.screens.card import card_words, event_words
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.gear_forms import ADD, CHANGE, COPY, EVENT, PIECE, task_of
from gearlog.tui.screens.list_screen import ListScreen
from gearlog.tui.widgets.columns import Column
from gearlog.units.natural import natural

DUE_WORDS = {"overdue": "OVERDUE", "never-examined": "OVERDUE", "out-of-service": "-"}
NEVER = date.max  # sorts what has no date after all that has one


class GearScreen(ListScreen[GearRow]):
    """The list of gear with its card."""

    PLACE = "gear"
    KEYS = "gear"
    CARD_KEYS = "card"
    BINDINGS: ClassVar[list[BindingType]] = bindings("gear", "card")
    EMPTY = "The log holds no gear yet. Press a to add the first item: a rope, a lanyard, a connector."
    ORDER = "by tag"
    STATE = "status"
    STATES = words_of(Status)
    HELP = (
        "All gear of the log. Type / to filter: every word must occur in tag, name, maker, serial, place or notes. "
        "Enter opens the card of an item: where it stands and why, its ends with their splices, its history. "
        "r records what happened to it: examined, cut, dropped, quarantined, retired. Its status follows from that "
        "history and is never typed. An entry made by mistake is struck out with x and stays readable."
    )

    def columns(self) -> Sequence[Column[GearRow]]:
        """Tag, name, kind, status, due."""
        return (
            Column("tag", "tag", lambda row: row.tag, 14, share=1),
            Column("name", "name", lambda row: row.name, 16, share=3),
            Column("category", "kind", lambda row: row.category, 13, needs=72),
            Column("status", "status", lambda row: label(row.status), 11, style=_status_style),
            Column("due", "due", due_words, 10, order=_due_order, style=_due_style),
        )

    def rows(self) -> Sequence[GearRow]:
        """All items by tag."""
        return sorted(self.book.gear.rows(), key=lambda row: natural(row.tag))

    def identity(self, row: GearRow) -> str:
        """The item's id."""
        return row.item.id

    def search(self, row: GearRow) -> str:
        """What the filter finds."""
        return row.search

    def kinds(self) -> Sequence[Choice]:
        """The categories."""
        return words_of(Category)

    def is_kind(self, row: GearRow, kind: str) -> bool:
        """By category."""
        return row.item.category == kind

    def is_state(self, row: GearRow, state: str) -> bool:
        """By status."""
        return row.status == state

    def describe(self, record_id: str, width: int) -> Content:
        """The card."""
        return card_words(self.book.gear.card(record_id), self.book.settings, width)

    # Adding, changing, recording

    def reopen(self, draft: str) -> None:
        """Open the form that was open when the program was left."""
        self._open_form(draft)

    def _open_form(self, draft: str) -> None:
        try:
            task = task_of(self.book, draft)
        except (GearlogError, KeyError):
            return  # what it was about is gone
        self.app.push_screen(FormScreen(task), self._saved)

    def _saved(self, record: object) -> None:
        if record is None:
            return
        item_id = record.item_id if isinstance(record, Event) else getattr(record, "id", "")
        self.renew_if_changed()
        self.gearlog.tell("Saved.")
        if not self.list.choose(item_id):
            self._clear()
            self.list.choose(item_id)

    def _card(self) -> Card | None:
        return self.book.gear.card(self.chosen_id) if self.chosen_id else None

    def action_add(self) -> None:
        """Add an item."""
        self._open_form(ADD)

    def action_change(self) -> None:
        """Change the chosen item's data."""
        if self.chosen_id:
            self._open_form(f"{CHANGE}:{self.chosen_id}")

    def action_record(self) -> None:
        """Record what happened to the chosen item."""
        if self.chosen_id:
            self._open_form(f"{EVENT}:{self.chosen_id}")

    def action_copy(self) -> None:
        """Copy the chosen item as a new one; a rope may also be cut."""
        card = self._card()
        if card is None:
            return
        if card.item.rope is None:
            self._open_form(f"{COPY}:{card.item.id}")
            return
        choices = ((COPY, "another one like it"), (PIECE, "a piece cut from it"))
        item_id = card.item.id
        self.app.push_screen(
            ChooseDialog(f"What is added, starting from {card.item.tag}?", choices, COPY),
            lambda draft: self._open_form(f"{draft}:{item_id}") if draft else None,
        )

    # Planning and striking out

    def action_plan(self) -> None:
        """Plan a splice at an end of the chosen rope."""
        card = self._card()
        if card is None:
            return
        if not card.ends:
            self.gearlog.tell(f"{card.item.tag} is not on record as a rope: press e and fill in its construction.",
                              "warning")  # fmt: skip
            return
        choices = tuple((end.value, f"{end.value}: {label(view.state)}, {view.why}") for end, view in card.ends.items())
        item_id = card.item.id
        self.app.push_screen(
            ChooseDialog(f"At which end of {card.item.tag}?", choices, choices[0][0]),
            lambda end: self._plan(item_id, end) if end else None,
        )

    def _plan(self, item_id: str, end: str) -> None:
        form = self.gearlog.attempt(lambda: self.book.planner.form_for(item_id, end))
        if form is not None:
            self.gearlog.go("planner", form=form)

    def action_strike(self) -> None:
        """Strike out an entry of the chosen item's history."""
        card = self._card()
        standing = [event for event in card.events if not event.struck_because] if card else []
        if not standing:
            self.gearlog.tell("Its history holds nothing that could be struck out.", "warning")
            return
        choices = [(event.id, _entry(event)) for event in standing]
        self.app.push_screen(ChooseDialog("Strike out which entry?", choices, choices[0][0]), self._ask_why)

    def _ask_why(self, event_id: str | None) -> None:
        if event_id is None:
            return
        words = "The entry stays readable in the history and counts for nothing any more."
        self.app.push_screen(
            ReasonDialog("Why is it struck out?", words, hint="entered for the wrong rope"),
            lambda reason: self._strike(event_id, reason) if reason else None,
        )

    def _strike(self, event_id: str, reason: str) -> None:
        if self.gearlog.attempt(lambda: self.book.gear.strike(event_id, reason)) is not None:
            self.renew_if_changed()
            self.gearlog.tell("Struck out.")


def _entry(event: Event) -> str:
    return f"{event.happened_on}  {label(event.kind)}  {event_words(event)}"


def due_words(row: GearRow) -> str:
    """When it is due, in a word or a date."""
    return DUE_WORDS.get(row.due.state) or (row.due.due_on.isoformat() if row.due.due_on else "")


def _due_order(row: GearRow) -> tuple[bool, date]:
    never = row.due.state == "never-examined"
    return (not never, row.due.due_on or NEVER)


def _due_style(row: GearRow) -> str:
    return {"overdue": "bad", "never-examined": "bad", "due-soon": "warn", "out-of-service": "quiet"}.get(
        row.due.state, ""
    )


def _status_style(row: GearRow) -> str:
    return "" if row.status is Status.IN_SERVICE else "quiet" if row.status is Status.DESTROYED else "warn"
