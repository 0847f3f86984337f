"""The planner: a form that is worked out at every letter, and pages that show what comes of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from msgspec.structs import replace
from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.timer import Timer

from gearlog.domain.splice import Splice
from gearlog.errors import GearlogError
from gearlog.services.reading_forms import BLANKS
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.dialogs.confirm import ConfirmDialog
from gearlog.tui.keys import bindings
from gearlog.tui.screens import record
from gearlog.tui.screens.base import MainScreen, Wish
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.widgets.form import FormView
from gearlog.tui.widgets.lines_view import LinesView
from gearlog.tui.widgets.plan_bars import PageBar, PlanBar
from gearlog.tui.widgets.plan_pages import PAGES, PlanPages
from gearlog.tui.widgets.plan_state import PlanState
from gearlog.tui.widgets.planning import relevant, rope_choices, with_rope

WIDE = 108  # columns from which the form and a drawing of 60 columns stand side by side
WIDER = 120  # columns from which the form may be wider too
PAUSE = 0.25  # seconds without a letter, after which the diary is asked
FIELDS, PLAN, LAST_TIME, WHY = PAGES[0], PAGES[1], PAGES[3], PAGES[4]


class PlanForm(FormView):
    """The planner's form; its labels are short, so that a drawing has room beside it."""

    label_width = 20


class PlannerScreen(MainScreen):
    """Form and pages; ``at`` is the page that has the focus."""

    PLACE = "planner"
    KEYS = "planner"
    CSS_PATH = "planner.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("planner")
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide"), (WIDER, "-wider")]  # noqa: RUF012 (the toolkit's shape)
    HELP = (
        "Type the rope, or take one from the log with ctrl+t; choose the method; type the eye. The plan is worked "
        "out at every letter: the two lines under the pages tell where it stands. ctrl+g turns the page: fields, "
        "plan, steps, last time, why. In 'why' a mark's letter goes to it. NOT CURRENT means that a field cannot be "
        "read and that the plan shown is the last good one. ctrl+r records the splice once it is made. "
        "The numbers come from general practice and from what you typed: the rope maker's instructions come first, "
        "and a splice for life support is inspected by a competent person before use."
    )

    def __init__(self) -> None:
        super().__init__()
        self.state = PlanState()
        self.at = FIELDS
        self._shown = PLAN  # the page beside the form
        self._field = ""  # the field that had the focus last
        self._pause: Timer | None = None
        self._known: dict[str, str] = {}  # what the log knew of the rope last taken

    def parts(self) -> ComposeResult:
        """Pages to turn to, how the plan stands, form and page."""
        planner = self.book.planner
        start = planner.blank_form() | (self.gearlog.memory.draft(self.PLACE) or {})
        self.labels = {field.name: field.label for field in planner.fields()}
        yield PageBar(PAGES)
        yield PlanBar()
        with Horizontal(id="sides"):
            yield PlanForm(planner.fields(), start, check=self._fault, relevant=relevant)
            yield LinesView()

    @property
    def form(self) -> FormView:
        """The form."""
        return self.query_one(FormView)

    @property
    def page(self) -> LinesView:
        """The page beside or instead of the form."""
        return self.query_one(LinesView)

    def on_mount(self) -> None:
        """Begin in the form."""
        self.pages = PlanPages(self.book)
        self.turn_to(FIELDS)

    # Live

    def _fault(self, name: str, text: str) -> str | None:
        del text  # the whole form is judged: a field may be wrong only beside another
        return PlanState().after(self.form.values(), self.book.planner).fault_of(name)

    @on(FormView.Changed)
    def _changed(self, event: FormView.Changed) -> None:
        form = event.values
        if event.name == "rope":
            form = self._rope_typed(form)
        self.gearlog.memory.keep_draft(self.PLACE, form)
        self._plan(form)

    def _plan(self, form: Mapping[str, str]) -> None:
        self.state = self.state.after(form, self.book.planner)
        self._show()
        self._look_up_soon()

    def _show(self, *, from_top: bool = False) -> None:
        self.query_one(PlanBar).show(*self.state.headline(self.labels), self.state.figures())
        self.query_one(PageBar).show(self.at)
        if self.page.display and not self._awaited:
            self.page.show(self.pages.page(self._shown, self.state, self.form.values()), from_top=from_top)

    @property
    def _awaited(self) -> bool:
        """Whether the page of last time, beside the form, waits for a pause in the typing."""
        plan = self.state.plan
        return self.at == FIELDS and self._shown == LAST_TIME and plan is not None and not self.pages.knows(plan)

    def _look_up_soon(self) -> None:
        """Ask the diary once the typing pauses, for a long diary takes its time."""
        if self.state.plan is not None and not self.pages.knows(self.state.plan):
            self.query_one(PlanBar).tell_last_time("")
        if self._pause is not None:
            self._pause.stop()
        self._pause = self.set_timer(PAUSE, self._look_up)

    def _look_up(self) -> None:
        plan = self.state.plan
        self.query_one(PlanBar).tell_last_time(self.pages.last_time(plan).one_line() if plan else "")
        self._show()

    def renew(self) -> None:
        """The log or the unit changed: work out anew, also a plan that is not current."""
        plan = self.state.plan
        settings = self.book.settings
        if plan is not None and (plan.inputs.unit, plan.inputs.tape_parts) != (settings.unit, settings.tape_parts):
            inputs = replace(plan.inputs, unit=settings.unit, tape_parts=settings.tape_parts)
            self.state = PlanState(self.book.planner.plan_for(inputs))
        self._plan(self.form.values())

    # Ropes of the log

    def _rope_typed(self, form: dict[str, str]) -> dict[str, str]:
        try:
            item = self.book.gear.by_tag(form["rope"].strip(BLANKS))
        except GearlogError:
            return form
        return self._take(form, self.book.planner.form_for(item.id, form["end"]) | {"rope": form["rope"]})

    def _take(self, form: Mapping[str, str], known: Mapping[str, str]) -> dict[str, str]:
        filled = with_rope(form, known, self._known, self.book.planner)
        self._known = dict(known)
        self.form.fill(filled)
        return filled

    def action_take(self) -> None:
        """Choose a rope from the log by typing."""
        choices = rope_choices(self.book.gear.rows())
        self.app.push_screen(ChooseDialog("Which rope?", choices), self._taken)

    def _taken(self, item_id: str | None) -> None:
        if item_id:
            self.arrive(Wish(form=self.book.planner.form_for(item_id, self.form.values()["end"])))

    def arrive(self, wish: Wish) -> None:
        """Plan on a rope; eye, pin and tools stay as they were typed."""
        if wish.form is not None:
            form = self._take(self.form.values(), wish.form)
            self.gearlog.memory.keep_draft(self.PLACE, form)
            self._plan(form)
            self.turn_to(FIELDS)
            self._field = next(iter(self.state.empty), self._field)
            self.form.focus_field(self._field)

    # Pages

    def turn_to(self, page: str) -> None:
        """Show a page and put the focus on it; in the form it comes back to its field."""
        self._field = self.form.focused_field or self._field
        self.at = page
        if page != FIELDS:
            self._shown = page
        self.set_class(page == FIELDS, "-typing")
        self.call_after_refresh(self._turned)

    def _turned(self) -> None:
        self._show(from_top=self.at != FIELDS)
        if self.at != FIELDS:
            self.page.focus()
        elif not self.form.focused_field:
            self.form.focus_field(self._field or next(iter(self.state.empty), "rope"))
        self.renew_keys()

    def on_resize(self) -> None:
        """A page that came into view is drawn."""
        self.call_after_refresh(self._show)

    def action_turn(self) -> None:
        """Turn the page."""
        self.turn_to(PAGES[(PAGES.index(self.at) + 1) % len(PAGES)])

    def action_last_time(self) -> None:
        """What worked last time; once more goes back to the form."""
        self.turn_to(FIELDS if self.at == LAST_TIME else LAST_TIME)

    def action_why(self) -> None:
        """Why the numbers are what they are; once more goes back to the form."""
        self.turn_to(FIELDS if self.at == WHY else WHY)

    def on_key(self, event: events.Key) -> None:
        """In 'why' a mark's letter goes to it."""
        if self.at == WHY and event.character and self.page.has_focus and self.page.scroll_to_key(event.character):
            event.stop()

    def action_back(self) -> None:
        """From a page to the form; from the form to Today."""
        if self.at != FIELDS:
            self.turn_to(FIELDS)
        else:
            self.gearlog.go("today")

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
            self._refuse()
        elif plan.stopped:
            stops = " ".join(check.message for check in plan.checks if check.level == "stop")
            question = "This plan is STOPPED. Record what was made all the same, as an experiment?"
            self.app.push_screen(ConfirmDialog(question, f"STOP: {stops}"), self._confirmed)
        else:
            self._record()

    def _refuse(self) -> None:
        word, words = self.state.headline(self.labels)
        self.gearlog.tell(f"{word}: {words}", "warning")
        self.turn_to(FIELDS)
        self.form.show_faults(self.state.faults)

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
            self.gearlog.tell(
                f"Recorded: {self.state.headline(self.labels)[1]}. It is in Splices and on the rope's card."
            )
