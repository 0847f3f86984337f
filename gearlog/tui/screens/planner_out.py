"""What leaves the planner: the card for the bench, and copies of methods to be changed as one's own."""

from __future__ import annotations

from pathlib import Path

from textual import on

from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import Unit
from gearlog.services.handing_out import card_name, cards_folder, write_out
from gearlog.tui.dialogs.card_file import CardDialog
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.dialogs.reason import ReasonDialog
from gearlog.tui.screens.planner_desk import FIELDS, PlannerDesk
from gearlog.tui.widgets.form import FormView

READ = 12.0  # seconds; a path takes long to read
NO_COPY = "Copying only makes the file: the program goes on with the methods it has until the folder is read again."


class PlannerOut(PlannerDesk):
    """The desk, with the ways out of it that do not touch the log's records."""

    # The card

    @on(FormView.Submitted)
    def _save_key(self) -> None:
        self.action_save()

    def action_save(self) -> None:
        """Write the card for the bench; a plan that is not current has none."""
        plan = self.state.plan
        if plan is None or not self.state.current:
            self.refuse()
            return
        folder = cards_folder(self.book.folder)
        paper = "letter" if plan.inputs.unit is Unit.IMPERIAL else "a4"
        dialog = CardDialog(
            folder,
            card_name(plan, folder, "pdf"),
            paper,
            lambda path, kind, size, over: self._write_card(plan, path, kind, size, over=over),
            stopped=plan.stopped,
        )
        self.app.push_screen(dialog, self._told_where)

    def _write_card(self, plan: Plan, path: Path, kind: str, paper: str, *, over: bool) -> Path:
        return write_out(path, self.book.planner.card(plan, kind, paper=paper), over=over)

    def _told_where(self, path: Path | None) -> None:
        if path is not None:
            self.gearlog.tell(f"The bench card is written: {path}", seconds=READ)

    def refuse(self) -> None:
        """Tell why there is no plan to go on with, and go to the field that keeps it from being one."""
        word, words = self.state.headline(self.labels)
        self.gearlog.tell(f"{word}: {words}", "warning")
        self.turn_to(FIELDS)
        self.form.show_faults(self.state.faults)

    # Own methods

    def action_own_method(self) -> None:
        """Copy a built-in method into the log's folder, to be changed as one's own."""
        methods = [method for method in self.book.planner.methods() if not method.own]
        choices = [(method.id, method.title) for method in methods]
        about = {method.id: method.summary for method in methods}
        start = self.form.values().get("method", "")
        dialog = ChooseDialog("Copy which method, to change it as your own?", choices, start, about=about)
        self.app.push_screen(dialog, self._name_copy)

    def _name_copy(self, method_id: str | None, typed: str = "") -> None:
        """Ask for the copy's id; ``typed`` is one that was refused, to be mended."""
        if method_id:
            words = f"The id of your method, in small letters, digits and hyphens. {NO_COPY}"
            dialog = ReasonDialog("What is it called?", words, hint="my-eye", start=typed or f"my-{method_id}")
            self.app.push_screen(dialog, lambda new_id: self._copy(method_id, new_id) if new_id else None)

    def _copy(self, method_id: str, new_id: str) -> None:
        def write() -> Path:
            path, text = self.book.planner.own.copy(method_id, new_id)
            return write_out(path, text.encode("utf-8"))

        path = self.gearlog.attempt(write)
        if path is None:
            self._name_copy(method_id, new_id)
        else:
            words = f"Written: {path}. Change it in any editor, then read the methods again (R)."
            self.gearlog.tell(words, seconds=READ)

    def action_read_methods(self) -> None:
        """Read the folder of own methods again, and say what is wrong with them."""
        self.book.planner.read_methods_again()
        self.form.read_methods_anew()
        self.renew()
        own = sum(method.own for method in self.book.planner.methods())
        faults = self.book.planner.method_faults()
        told = f"{own} {'method' if own == 1 else 'methods'} of your own"
        if faults:
            self.gearlog.tell("\n".join((f"{told}; what does not read:", *faults)), "warning", seconds=READ)
        else:
            self.gearlog.tell(f"{told}, all of them read.")
