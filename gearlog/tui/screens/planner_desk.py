"""The planner's desk: the form that is worked out at every letter, and the pages that show what comes of it."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace
from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.timer import Timer

from gearlog.tui.dialogs.explain import ExplainDialog
from gearlog.tui.screens.base import MainScreen
from gearlog.tui.widgets.form import FormView
from gearlog.tui.widgets.plan_bars import PageBar, PlanBar
from gearlog.tui.widgets.plan_form import PlanForm
from gearlog.tui.widgets.plan_lines import PlanLines
from gearlog.tui.widgets.plan_pages import PAGES, PlanPages
from gearlog.tui.widgets.plan_state import PlanState

WIDE = 108  # columns from which the form and a drawing of 60 columns stand side by side
OVERLAP = 2  # lines that stay in view when a page is scrolled
WIDER = 120  # columns from which the form may be wider too
PAUSE = 0.25  # seconds without a letter, after which the diary is asked
FIELDS, PLAN, LAST_TIME, WHY = PAGES[0], PAGES[1], PAGES[3], PAGES[4]


class PlannerDesk(MainScreen):
    """Form and pages; ``at`` is the page that has the focus, ``state`` the plan as the form stands."""

    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide"), (WIDER, "-wider")]  # noqa: RUF012 (the toolkit's shape)

    def __init__(self) -> None:
        super().__init__()
        self.state = PlanState()
        self.at = FIELDS
        self._shown = PLAN  # the page beside the form
        self._field = ""  # the field that had the focus last
        self._pause: Timer | None = None

    def parts(self) -> ComposeResult:
        """Pages to turn to, how the plan stands, form and page."""
        planner = self.book.planner
        start = planner.blank_form() | (self.gearlog.memory.draft(self.PLACE) or {})
        self.labels = {field.name: field.label for field in planner.fields()}
        yield PageBar(PAGES)
        yield PlanBar()
        with Horizontal(id="sides"):
            yield PlanForm(planner, start, self._fault)
            yield PlanLines()

    @property
    def form(self) -> PlanForm:
        """The form."""
        return self.query_one(PlanForm)

    @property
    def page(self) -> PlanLines:
        """The page beside or instead of the form."""
        return self.query_one(PlanLines)

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
        self.work_out(self.followed(event.values) if event.name == "rope" else event.values)

    def followed(self, form: dict[str, str]) -> dict[str, str]:
        """The form after another rope was typed into it."""
        return form

    def work_out(self, form: Mapping[str, str]) -> None:
        """Keep what is typed and plan by it."""
        self.gearlog.memory.keep_draft(self.PLACE, form)
        self._plan(form)

    def _plan(self, form: Mapping[str, str]) -> None:
        self.state = self.state.after(form, self.book.planner)
        self.form.choose_among(form)
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
        """Why the number under the cursor is what it is; without one why all are; once more goes back to the form."""
        if self.at not in {FIELDS, WHY} and self.page.at:
            self.explain(PlanLines.Asked(self.page.at))
        else:
            self.turn_to(FIELDS if self.at == WHY else WHY)

    @on(PlanLines.Asked)
    def explain(self, event: PlanLines.Asked) -> None:
        """Show why the numbers of one line are what they are; in 'why' that is told already."""
        plan = self.state.plan
        explained = self.gearlog.attempt(lambda: self.pages.explained(plan)) if plan else None
        if explained is not None and self.at != WHY:
            self.app.push_screen(ExplainDialog(explained, event.key))

    @on(PlanForm.Beside)
    def scroll_beside(self, event: PlanForm.Beside) -> None:
        """Scroll the page that stands beside the form by most of its height; alone, the form."""
        view = self.page if self.page.display else self.form
        view.scroll_relative(y=event.step * max(view.size.height - OVERLAP, 1), animate=False)

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
