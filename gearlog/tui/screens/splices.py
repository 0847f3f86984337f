"""Splices: the diary, newest first, and the record of one with what was planned beside what was measured."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content

from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, Outcome, label
from gearlog.errors import GearlogError
from gearlog.services.forms import words_of
from gearlog.services.views import SpliceRow
from gearlog.tui.dialogs.choose import Choice
from gearlog.tui.keys import bindings
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.list_page import WIDE
from gearlog.tui.screens.list_screen import ListScreen
from gearlog.tui.screens.record import ADD, CHANGE, COPY, task_of
from gearlog.tui.widgets.columns import Column
from gearlog.tui.widgets.lines import as_content
from gearlog.tui.widgets.splice_view import SplicePage

WIDER = 120  # columns from which the record beside the list has room for a drawing
LEAST_DRAWING = 60  # cells; a narrower page shows no drawing rather than a broken one
BAD = frozenset({Outcome.FAILED, Outcome.CUT_OFF})


class SplicesScreen(ListScreen[SpliceRow]):
    """The diary with the record of one splice."""

    PLACE = "splices"
    KEYS = "splices"
    CARD_KEYS = "splice"
    CSS_PATH = "splices.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("splices", "splice")
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide"), (WIDER, "-wider")]  # noqa: RUF012 (the toolkit's shape)
    EMPTY = "The diary is empty. Press 4 to plan a splice and record it there, or a to record one made without a plan."
    KIND = "method"
    STATE = "outcome"
    STATES = words_of(Outcome)
    HELP = (
        "Every splice on record, the newest first. Type / to filter: every word must occur in rope, method, date, "
        "outcome, tools, difficulties or remarks. Enter opens the record: what was planned beside what was measured, "
        "what was hard, the drawing. c copies it as a new record, as last time. e corrects it with a reason; the "
        "version before is kept and v shows it. o goes to the rope's card, p plans the next splice on it."
    )

    def __init__(self) -> None:
        super().__init__()
        self._old = False  # whether earlier versions are shown

    def columns(self) -> Sequence[Column[SpliceRow]]:
        """Date, rope, end, method, outcome."""
        return (
            Column("made", "made on", lambda row: row.made_on.text, 10),
            Column("tag", "rope", lambda row: row.tag, 9, share=1),
            Column("end", "end", lambda row: row.end, 3),
            Column("method", "method", lambda row: row.method_title, 7, share=2),
            Column("outcome", "outcome", _outcome, 11, style=_style),
        )

    def rows(self) -> Sequence[SpliceRow]:
        """All splices, each as its newest version tells it."""
        return self.book.diary.rows()

    def identity(self, row: SpliceRow) -> str:
        """The record's id."""
        return row.splice.id

    def search(self, row: SpliceRow) -> str:
        """What the filter finds."""
        return row.search

    def kinds(self) -> Sequence[Choice]:
        """The methods that splices were made by."""
        return tuple({row.splice.method: row.method_title for row in self.book.diary.rows()}.items())

    def is_kind(self, row: SpliceRow, kind: str) -> bool:
        """By method."""
        return row.splice.method == kind

    def is_state(self, row: SpliceRow, state: str) -> bool:
        """By outcome."""
        return row.outcome == state

    def describe(self, record_id: str, width: int) -> Content:
        """The record."""
        return as_content(self._page(record_id, width).lines(width))

    def _page(self, splice_id: str, width: int) -> SplicePage:
        diary, settings = self.book.diary, self.book.settings
        row = next(row for row in diary.rows() if row.splice.id == splice_id)
        splice = row.splice
        earlier = diary.versions(splice_id)[1:]
        return SplicePage(
            splice=splice,
            rope=f"{row.tag}, {row.rope_name}" if row.tag else "a rope no longer in the log",
            method=row.method_title,
            compared=diary.comparison(splice),
            drawing=self._drawing(splice, width),
            versions=earlier if self._old else (),
            hidden=0 if self._old else len(earlier),
            unit=settings.unit,
            tape_parts=settings.tape_parts,
        )

    def _drawing(self, splice: Splice, width: int) -> Sequence[str]:
        if splice.plan is None or width < LEAST_DRAWING:
            return ()
        return self.book.planner.draw(splice.plan, width)

    # What one does with a record

    def reopen(self, draft: str) -> None:
        """Open the form that was open when the program was left."""
        self._open_form(draft)

    def _open_form(self, draft: str) -> None:
        try:
            task = task_of(self.book, draft)
        except (GearlogError, KeyError):
            return  # what it was about is gone
        self.app.push_screen(FormScreen(task), self._saved)

    def _saved(self, splice: Splice | None) -> None:
        if splice is None:
            return
        self.renew_if_changed()
        self.gearlog.tell("Saved.")
        if not self.list.choose(splice.id):
            self._clear()
            self.list.choose(splice.id)

    def action_add(self) -> None:
        """Record a splice made without a plan."""
        self._open_form(ADD)

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
        self.gearlog.go("planner", form=form)


def _outcome(row: SpliceRow) -> str:
    return label(row.outcome).removeprefix("usable ")


def _style(row: SpliceRow) -> str:
    return "bad" if row.outcome in BAD else "" if row.outcome is Outcome.GOOD else "warn"
