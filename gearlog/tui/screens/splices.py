"""Splices: the diary, newest first, and all that one does with a record."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import LoadKind, StrengthTest
from gearlog.domain.vocabulary import End
from gearlog.errors import GearlogError
from gearlog.tui.keys import bindings
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.record import CHANGE, COPY, TEST, task_of
from gearlog.tui.screens.splice_adding import ask_what_was_made
from gearlog.tui.screens.splice_beside import SplicesBeside
from gearlog.units import showing


class SplicesScreen(SplicesBeside):
    """The diary with all that one does there."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("splices", "splice")
    HELP = (
        "Every splice on record, the newest first. Type / to filter by words; n narrows by rope, construction, method, "
        "maker, outcome, difficulty and date, and what is narrowed stands over the list. Enter opens the record: what "
        "was planned beside what was measured, tests of strength, the drawing. a records a splice that is made: rope, "
        "end and method by some letters, the rest filled in as last time. c copies this one. e corrects it with a "
        "reason; the version before is kept and v shows it. t enters a test of strength, x strikes one out. V shows "
        "its photos or adds one. l tells what splices like it teach. o goes to the rope's card, p plans the next."
    )

    # What one does with a record

    def reopen(self, draft: str) -> None:
        """Open the form that was open when the program was left."""
        self._open_form(draft)

    def _open_form(self, draft: str) -> None:
        try:
            task = task_of(self.book, draft)
        except (GearlogError, KeyError, ValueError):
            return  # what it was about is gone
        self.app.push_screen(FormScreen(task), self._saved)

    def _saved(self, made: Splice | StrengthTest | None) -> None:
        if isinstance(made, Splice):
            self.shown_again(made.id, "Saved.")
        elif isinstance(made, StrengthTest):
            broke = " The rope is in quarantine until a competent person has looked at it."
            self.shown_again(made.splice_id, f"Saved.{broke if made.kind is LoadKind.BREAK else ''}")

    def action_add(self) -> None:
        """Record a splice that is made already: rope, end and method by some letters."""
        row = self.list.chosen_row
        ask_what_was_made(self, self._open_form, start_on=row.splice.rope_id if row else "")

    def action_test(self) -> None:
        """Enter a test of strength of the chosen splice."""
        if self.chosen_id:
            self._open_form(f"{TEST}:{self.chosen_id}")

    def action_copy(self) -> None:
        """Record a new one as this one was made."""
        if self.chosen_id:
            self._open_form(f"{COPY}:{self.chosen_id}")

    def action_change(self) -> None:
        """Correct the chosen record, with a reason."""
        if self.chosen_id:
            self._open_form(f"{CHANGE}:{self.chosen_id}")

    def action_versions(self) -> None:
        """Show or hide what the record said before it was corrected."""
        if not self.chosen_id:
            return
        if len(self.book.diary.versions(self.chosen_id)) == 1:
            self.gearlog.tell("It was never corrected: there is no earlier version.")
            return
        self._old = not self._old
        self.read()

    def action_rope(self) -> None:
        """Go to the rope's card."""
        row = self.list.chosen_row
        if row is not None and row.tag:
            self.gearlog.go("gear", chosen=row.splice.rope_id)

    def action_plan(self) -> None:
        """Plan the next splice on the rope, by the same method and of the same eye."""
        row = self.list.chosen_row
        if row is None or not row.tag:
            return
        splice = row.splice
        end = "" if splice.end is End.BETWEEN else splice.end.value
        form = self.book.planner.form_for(splice.rope_id, end)
        if splice.method in {method.id for method in self.book.planner.methods()}:
            form["method"] = splice.method
        if splice.plan is not None and splice.plan.inputs.eye_m is not None:
            form["eye"] = showing.length(splice.plan.inputs.eye_m)
        self.gearlog.go("planner", form=form)
