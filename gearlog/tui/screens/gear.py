"""Gear: every item in a list, the card of one beside it, and what one does with it."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from gearlog.tui.dialogs.reason import ReasonDialog
from gearlog.tui.keys import bindings
from gearlog.tui.screens.card_story import entry_words
from gearlog.tui.screens.gear_desk import present
from gearlog.tui.screens.gear_forms import ADD, CHANGE, COPY, EVENT, PIECE
from gearlog.tui.screens.gear_moves import GearMoves

STRIKES = ("event", "inspection")
"""What can be struck out of a history here; a splice is corrected in the diary."""


class GearScreen(GearMoves):
    """The list of gear with its card, and all that one does there."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("gear", "card")
    HELP = (
        "All gear of the log. Type / to filter: every word must occur in tag, name, maker, serial, place or notes. "
        "Enter opens the card of an item: where it stands and why, its ends with their splices, its history. "
        "i inspects it. r records what happened to it: cut, dropped, washed, a fall. Its status follows from that "
        "history and is never typed. An entry made by mistake is struck out with x and stays readable."
    )

    def rope_at_hand(self) -> str:
        """The chosen item, where it is a rope."""
        card = self.chosen_card()
        return card.item.tag if card is not None and card.item.rope is not None else ""

    # Adding, changing, recording

    @present
    def action_add(self) -> None:
        """Add an item."""
        self.open_form(ADD)

    @present
    def action_change(self) -> None:
        """Change the chosen item's data."""
        if self.chosen_id:
            self.open_form(f"{CHANGE}:{self.chosen_id}")

    @present
    def action_record(self) -> None:
        """Record what happened to the chosen item."""
        if self.chosen_id:
            self.open_form(f"{EVENT}:{self.chosen_id}")

    @present
    def action_copy(self) -> None:
        """Copy the chosen item as a new one; a rope may also be cut."""
        card = self.chosen_card()
        if card is None:
            return
        item_id = card.item.id
        if card.item.rope is None:
            self.open_form(f"{COPY}:{item_id}")
            return
        choices = ((COPY, "another one like it"), (PIECE, "a piece cut from it"))
        title = f"What is added, starting from {card.item.tag}?"
        self.ask(title, choices, lambda draft: self.open_form(f"{draft}:{item_id}"))

    # Planning and striking out

    @present
    def action_plan(self) -> None:
        """Plan a splice at an end of the chosen rope; what is out of service is refused with the reason."""
        card = self.chosen_card()
        if card is None:
            return
        item_id, why = card.item.id, self.book.standing.refusal(card.item.id)
        if not card.ends:
            words = f"{card.item.tag} is not on record as a rope: press e and fill in its construction."
            self.gearlog.tell(words, "warning")
        elif why:
            self.gearlog.tell(f"No plan: {why}", "error")
        else:
            choices = [(end.value, f"{end.value}: {view.words}") for end, view in card.ends.items()]
            self.ask(f"At which end of {card.item.tag}?", choices, lambda end: self._plan(item_id, end))

    def _plan(self, item_id: str, end: str) -> None:
        form = self.gearlog.attempt(lambda: self.book.planner.form_for(item_id, end))
        if form is not None:
            self.gearlog.go("planner", form=form)

    @present
    def action_strike(self) -> None:
        """Strike out an entry of the chosen item's history, or an inspection."""
        card = self.chosen_card()
        standing = [one for one in card.story if not one.struck and not one.inherited] if card else []
        choices = [(f"{one.source}:{one.id}", entry_words(one)) for one in standing if one.source in STRIKES][::-1]
        if choices:
            self.ask("Strike out which entry?", choices, self._ask_why)
        else:
            self.gearlog.tell("Its history holds nothing that could be struck out.", "warning")

    def _ask_why(self, entry: str) -> None:
        words = "The entry stays readable in the history and counts for nothing any more."
        self.app.push_screen(
            ReasonDialog("Why is it struck out?", words, hint="entered for the wrong rope"),
            lambda reason: self._strike(entry, reason) if reason else None,
        )

    def _strike(self, entry: str, reason: str) -> None:
        source, _, record_id = entry.partition(":")
        strike = self.book.gear.strike if source == "event" else self.book.inspecting.strike
        if self.gearlog.attempt(lambda: strike(record_id, reason)) is not None:
            self.renew_if_changed()
            self.gearlog.tell("Struck out. u takes it back.")
