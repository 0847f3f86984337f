"""The list of all gear: its columns, what narrows it, and the card beside it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import ClassVar

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from gearlog.domain.vocabulary import Category, Status, label
from gearlog.services.forms import words_of
from gearlog.services.views import GearRow
from gearlog.tui.dialogs.choose import Choice
from gearlog.tui.screens.card import card_words
from gearlog.tui.screens.list_screen import ListScreen
from gearlog.tui.text import content
from gearlog.tui.widgets.columns import Column
from gearlog.tui.widgets.today_lines import GAPS
from gearlog.units.natural import natural

DUE_WORDS = {"overdue": "OVERDUE", "never-examined": "OVERDUE", "out-of-service": "-"}
NEVER = date.max  # sorts what has no date after all that has one


class GearList(ListScreen[GearRow]):
    """What is shown of the gear, without what one does with it."""

    PLACE = "gear"
    KEYS = "gear"
    CARD_KEYS = "card"
    EMPTY = "The log holds no gear yet. Press a to add the first item: a rope, a lanyard, a connector."
    ORDER = "by tag"
    STATE = "status"
    STATES: ClassVar[tuple[Choice, ...]] = (*words_of(Status), (GAPS, "with gaps in its record"))

    on: date | None = None
    """The past day as of which the gear is shown; None is today."""

    DEFAULT_CSS = """
    GearList > #past { display: none; height: auto; padding: 0 2; background: $raised; color: $warn; text-style: bold; }
    GearList.-past > #past { display: block; }
    """

    def parts(self) -> ComposeResult:
        """The word of a past day over the list."""
        yield Static(id="past")
        yield from super().parts()

    def look_at(self, day: str) -> None:
        """Show the gear as it stood on a day; an empty text is today."""
        self.on = date.fromisoformat(day) if day else None
        self.set_class(self.on is not None, "-past")
        words = (
            f"PAST DAY {day}: as it stood then, by the items' data and the rules of today. Read only. D: another day."
        )
        self.query_one("#past", Static).update(content(words))
        self.renew()

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
        return sorted(self.book.gear.rows(self.on), key=lambda row: natural(row.tag))

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
        """By status, or by what its record lacks."""
        if state == GAPS:
            return bool(row.gaps) and row.status is Status.IN_SERVICE
        return row.status == state

    def describe(self, record_id: str, width: int) -> Content:
        """The card."""
        card = self.book.gear.card(record_id, self.on)
        return card_words(card, self.book.gear.along(card), self.book.settings, self.book.today(), width)


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
