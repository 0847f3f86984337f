"""The planner: ropes taken from the log, a plan at every letter, and the record of what was made by it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual.binding import BindingType

from gearlog.domain.splice import Splice
from gearlog.errors import GearlogError
from gearlog.services.reading_forms import BLANKS
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.dialogs.confirm import ConfirmDialog
from gearlog.tui.keys import bindings
from gearlog.tui.screens import record
from gearlog.tui.screens.base import Wish
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.planner_desk import FIELDS
from gearlog.tui.screens.planner_lessons import PlannerLessons
from gearlog.tui.widgets.plan_state import PlanState
from gearlog.tui.widgets.planning import end_choices, rope_choices, with_rope
from gearlog.tui.widgets.splice_view import end_words


class PlannerScreen(PlannerLessons):
    """The desk, with the log and the diary around it."""

    PLACE = "planner"
    KEYS = "planner"
    CSS_PATH = "planner.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("planner")
    HELP = (
        "Type the rope, or take one from the log with ctrl+t; choose the method; type the eye. The plan is worked "
        "out at every letter: the lines under the pages tell where it stands. ctrl+g turns the page: fields, "
        "plan, steps, last time, why. In 'why' a mark's letter goes to it. NOT CURRENT means that a field cannot be "
        "read and that the plan shown is the last good one. 5 or F6 takes the plan to the bench, step by step; "
        "ctrl+r records a splice that is made already; ctrl+s writes a card for the bench. "
        "On a page, l tells what splices like it teach, and d takes a correction that the diary offers, of the "
        "eye or of the shortening. "
        "On a page, up and down go from number to number, and Enter or y tells why it is what it is; while you type, "
        "page up and page down scroll the page beside the form. "
        "C copies a method to be changed as your own, R reads your own methods again; = puts two ropes side by side. "
        "What has no key while you type is found by its words with ctrl+p. "
        "The numbers come from general practice and from what you typed: the rope maker's instructions come first, "
        "and a splice for life support is inspected by a competent person before use."
    )

    def __init__(self) -> None:
        super().__init__()
        self._known: dict[str, str] = {}  # what the log knew of the rope last taken

    # Ropes of the log

    def followed(self, form: dict[str, str]) -> dict[str, str]:
        """The form, filled from the log once the tag of a rope is typed."""
        try:
            item = self.book.gear.by_tag(form["rope"].strip(BLANKS))
        except GearlogError:
            return form
        return self._take(form, self.book.planner.form_for(item.id, form["end"]) | {"rope": form["rope"]})

    def _take(self, form: Mapping[str, str], known: Mapping[str, str]) -> dict[str, str]:
        filled = with_rope(form, known, self._known, self.book.planner)
        if known.get("rope") != self._known.get("rope"):
            self.state = PlanState()  # the plan of another rope is none for this one
        self._known = dict(known)
        self.form.fill(filled)
        return filled

    def action_take(self) -> None:
        """Choose a rope from the log by typing."""
        choices = rope_choices(self.book.gear.rows())
        self.app.push_screen(ChooseDialog("Which rope?", choices), self._taken)

    def _taken(self, item_id: str | None) -> None:
        if not item_id:
            return
        card = self.book.gear.card(item_id)
        choices = end_choices(card)
        self.app.push_screen(
            ChooseDialog(f"At which end of {card.item.tag}?", choices, choices[0][0]),
            lambda end: self.arrive(Wish(form=self.book.planner.form_for(item_id, end or ""))),
        )

    def arrive(self, wish: Wish) -> None:
        """Plan on a rope; eye, pin and tools stay as they were typed."""
        if wish.form is not None:
            self.work_out(self._take(self.form.values(), wish.form))
            self.turn_to(FIELDS)
            self._field = next(iter(self.state.empty), self._field)
            self.form.focus_field(self._field)

    def rope_at_hand(self) -> str:
        """The tag in the form, where it is one of a rope."""
        tag = self.form.values()["rope"].strip(BLANKS)
        return tag if any(row.tag == tag and row.item.rope for row in self.book.gear.rows()) else ""

    def action_afresh(self) -> None:
        """Empty the form; the rope's record is not touched."""
        self.gearlog.memory.drop_draft(self.PLACE)
        self.form.fill(self.book.planner.blank_form())
        self.state = PlanState()
        self._plan(self.form.values())
        self.turn_to(FIELDS)
        self.form.focus_field("rope")

    # Recording

    def action_record(self) -> None:
        """Record the splice made by this plan; a stopped plan only when one says so."""
        plan = self.state.plan
        if plan is None or not self.state.current:
            self.refuse()
        elif plan.stopped:
            stops = " ".join(check.message for check in plan.checks if check.level == "stop")
            question = "This plan is STOPPED. Record what was made all the same, as an experiment?"
            self.app.push_screen(ConfirmDialog(question, f"STOP: {stops}"), self._confirmed)
        else:
            self._record()

    def reopen(self, draft: str) -> None:
        """Open the record's form that was open when the program was left, if the plan is still the same."""
        plan = self.state.plan
        if plan is not None and self.state.current and record.from_plan(self.book, plan).draft == draft:
            self._record()

    def _confirmed(self, yes: bool | None) -> None:  # noqa: FBT001 (a dialog's answer)
        if yes:
            self._record()

    def _record(self) -> None:
        plan = self.state.plan
        if plan is not None:
            self.app.push_screen(FormScreen(record.from_plan(self.book, plan)), self._recorded)

    def _recorded(self, splice: Splice | None) -> None:
        if splice is not None:
            self.renew()
            tag = self.book.gear.item(splice.rope_id).tag
            self.gearlog.tell(f"Recorded: {tag}, {end_words(splice)}. Splices holds it.")
