"""The gear screen's desk: opening forms and the inspection, and coming back from them to the right record."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import wraps
from typing import TypeVar

from gearlog.domain.inspection import InspectionKind
from gearlog.errors import GearlogError
from gearlog.services.inspection_forms import KINDS
from gearlog.services.sheet import kept_in
from gearlog.services.views import Card
from gearlog.tui.dialogs.choose import Choice, ChooseDialog
from gearlog.tui.dialogs.find import KIT
from gearlog.tui.screens.base import Wish
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.gear_forms import task_of
from gearlog.tui.screens.gear_list import GearList
from gearlog.tui.screens.inspect_forms import INSPECT
from gearlog.upkeep.examinations import uncleared

Desk = TypeVar("Desk", bound="GearDesk")


def present(act: Callable[[Desk], None]) -> Callable[[Desk], None]:
    """An action that changes the log: refused, with a word, while a past day is shown."""

    @wraps(act)
    def only_today(desk: Desk) -> None:
        if desk.on is None:
            act(desk)
        else:
            desk.gearlog.tell(f"This is how it stood on {desk.on}: nothing can be changed there. D goes back to today.",
                              "warning")  # fmt: skip

    return only_today


class GearDesk(GearList):
    """Forms, questions and the inspection of the chosen item."""

    # Coming in

    def arrive(self, wish: Wish) -> None:
        """Show the record one came for, or only those that stand so; inspect it when one came for that."""
        form = wish.form or {}
        if self.on is not None:
            self.look_at("")
        if "state" in form:
            self._clear()
            self.gearlog.memory.keep_filter(f"{self.PLACE}.state", form["state"])
            self._narrow()
            self._tell()
            self.leave_record()
        super().arrive(wish)
        if "inspect" in form:
            self._inspect(form["inspect"])
        if KIT in form:
            self.show_kits(form[KIT])

    def show_kits(self, kit_id: str = "") -> None:
        """Show the kits, with the cursor on one of them."""
        from gearlog.tui.screens.kits import KitsScreen

        self.app.push_screen(KitsScreen(kit_id), lambda _: self.renew_if_changed())

    def reopen(self, draft: str) -> None:
        """Open the form that was open when the program was left."""
        name, _, item_id = draft.partition(":")
        if name == INSPECT:
            self._inspect(item_id)
        else:
            self.open_form(draft)

    def open_form(self, draft: str) -> None:
        """Open the form of a draft's name."""
        try:
            task = task_of(self.book, draft)
        except (GearlogError, KeyError):
            return  # what it was about is gone
        self.app.push_screen(FormScreen(task), self.saved)

    def saved(self, record: object) -> None:
        """Back from a form: show what was saved."""
        if record is None:
            return
        self.renew_if_changed()
        self.gearlog.tell("Saved. u takes it back.")
        item_id = str(getattr(record, "item_id", "") or getattr(record, "id", ""))
        if not self.list.choose(item_id):
            self._clear()
            self.list.choose(item_id)

    @present
    def action_undo(self) -> None:
        """Take back the last change of the log."""
        super().action_undo()

    @present
    def action_redo(self) -> None:
        """Do again what was taken back last."""
        super().action_redo()

    # What the actions use

    def chosen_card(self) -> Card | None:
        """The card of the chosen item, or None."""
        return self.book.gear.card(self.chosen_id, self.on) if self.chosen_id else None

    def ask(self, title: str, choices: Sequence[Choice], then: Callable[[str], None]) -> None:
        """Let one of several be chosen, then go on with it."""
        dialog = ChooseDialog(title, choices, choices[0][0])
        self.app.push_screen(dialog, lambda value: then(value) if value is not None else None)

    # Inspecting

    def action_report(self) -> None:
        """Write the report of the chosen item's last thorough examination."""
        from gearlog.tui.screens.report import report_on

        card = self.chosen_card()
        if card is not None:
            report_on(self, card.item.tag)

    @present
    def action_inspect(self) -> None:
        """Inspect the chosen item, or go on with what is half done."""
        if self.chosen_id:
            self._inspect(self.chosen_id)

    def _inspect(self, item_id: str) -> None:
        kept = kept_in(self.gearlog.memory.draft(f"{INSPECT}:{item_id}") or {})
        card = self.gearlog.attempt(lambda: self.book.gear.card(item_id))
        if card is None:
            return
        if kept is not None:
            self._open_sheet(item_id, kept[1])
            return
        first = InspectionKind.AFTER_EVENT if uncleared(card.events) else InspectionKind.THOROUGH
        choices = sorted(KINDS, key=lambda kind: kind[0] != first)
        self.ask(f"What kind of inspection of {card.item.tag}?", choices, lambda kind: self._open_kind(item_id, kind))

    def _open_kind(self, item_id: str, kind: str) -> None:
        self._open_sheet(item_id, InspectionKind(kind))

    def _open_sheet(self, item_id: str, kind: InspectionKind) -> None:
        from gearlog.tui.screens.inspect import InspectScreen

        draft = self.gearlog.memory.draft(f"{INSPECT}:{item_id}")
        sheet = self.gearlog.attempt(lambda: self.book.inspecting.sheet(item_id, kind, draft))
        if sheet is not None:
            self.app.push_screen(InspectScreen(self.book.gear.card(item_id), sheet), self.saved)
