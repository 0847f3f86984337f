"""The audit's desk: what is asked for, and beside or under it what would be written, before it is."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from textual import on
from textual.app import ComposeResult
from textual.containers import Container
from textual.timer import Timer
from textual.worker import get_current_worker

from gearlog.domain.audited import Audit
from gearlog.domain.vocabulary import Unit
from gearlog.errors import Fault, InvalidRecordError
from gearlog.services.auditing_forms import Wanted
from gearlog.tui.screens.base import MainScreen
from gearlog.tui.widgets.audit_form import AuditForm, arranged, matters
from gearlog.tui.widgets.audit_page import AuditPage, being_made
from gearlog.tui.widgets.form import FormView
from gearlog.tui.widgets.lines_view import LinesView

WIDE = 108  # columns from which form and page stand side by side
PAUSE = 0.25  # seconds without a letter, after which the audit is made anew
OVERLAP = 2  # lines that stay in view when the page is scrolled
AT_ONCE = 300  # items, whose audit is made within a moment
MOST_COUNTED = 5_000  # items, whose pages are counted before they are written
DAY = "on"


class AuditDesk(MainScreen):
    """Form and page; ``made`` is the audit that is shown, with what was asked for."""

    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide")]  # noqa: RUF012 (the toolkit's shape)

    def __init__(self) -> None:
        super().__init__()
        self.made: tuple[Audit, Wanted] | None = None
        self.faults: tuple[Fault, ...] = ()
        self.written = ""  # the file written last
        self.waiting = False  # whether an audit is being made that is not shown yet
        self._asked: Wanted | None = None
        self._made_of: int | None = None  # version of the log
        self._leaves = 0
        self._pause: Timer | None = None

    def parts(self) -> ComposeResult:
        """The form and the page."""
        known = self.book.auditing.known()
        fields = arranged(self.book.auditing.fields(), known)
        with Container(id="sides"):
            yield AuditForm(fields, self._start(), check=self._fault, relevant=self._matters)
            yield LinesView()

    def _start(self) -> dict[str, str]:
        paper = "letter" if self.book.settings.unit is Unit.IMPERIAL else "a4"
        start = self.book.auditing.blank_form() | {"paper": paper}
        return start | (self.gearlog.memory.draft(self.PLACE) or {})

    def _matters(self, name: str, form: Mapping[str, str]) -> bool:
        return matters(self.book.auditing.known(), name, form)

    @property
    def form(self) -> AuditForm:
        """The form."""
        return self.query_one(AuditForm)

    @property
    def page(self) -> LinesView:
        """The page."""
        return self.query_one(LinesView)

    def on_mount(self) -> None:
        """Begin on the page, where letters are keys."""
        self.page.focus()

    # What is shown

    def renew(self) -> None:
        """The log changed: names that can be ticked, and the audit."""
        self.call_after_refresh(self._renew)

    async def _renew(self) -> None:
        fields = arranged(self.book.auditing.fields(), self.book.auditing.known())
        if fields != self.form.fields:
            await self.form.rebuild(fields)
        self.make()

    def _fault(self, name: str, text: str) -> str | None:
        del text  # the whole form is judged: a day may be wrong only beside another
        try:
            self.book.auditing.wanted(self.form.values())
        except InvalidRecordError as error:
            told = [f"{fault.reason}; {fault.way_out}" for fault in error.faults if fault.field == name]
            return "; ".join(told) or None
        return None

    @on(FormView.Changed)
    def _changed(self, event: FormView.Changed) -> None:
        """Make the audit anew once the typing pauses; today is not remembered, or the list would be of yesterday."""
        today = self.book.today().isoformat()
        kept = {name: text for name, text in event.values.items() if (name, text) != (DAY, today)}
        self.gearlog.memory.keep_draft(self.PLACE, kept)
        if self._pause is not None:
            self._pause.stop()
        self._pause = self.set_timer(PAUSE, self.make)

    def make(self) -> bool:
        """Make the audit that the form asks for and show it; False when the form does not read.

        That of many items is made in a thread; ``waiting`` says that it is.
        """
        if self._pause is not None:
            self._pause.stop()
        try:
            wanted = self.book.auditing.wanted(self.form.values())
        except InvalidRecordError as error:
            self.faults = error.faults
            self.show_page()
            return False
        self.faults, self._asked = (), wanted
        if self.book.auditing.size() <= AT_ONCE:
            self._came(wanted, self.book.version, self.book.auditing.audit(wanted))
        elif not self._is_shown(wanted):
            self.waiting = True
            self.show_page()
            work = partial(self._make_beside, wanted, self.book.version)
            self.run_worker(work, thread=True, exclusive=True, group="audit", exit_on_error=False)
        return True

    def _is_shown(self, wanted: Wanted) -> bool:
        return self.made is not None and self.made[1] == wanted and self._made_of == self.book.version

    def _make_beside(self, wanted: Wanted, version: int) -> None:
        made = self.book.auditing.audit(wanted)
        if not get_current_worker().is_cancelled:
            self.app.call_from_thread(self._came, wanted, version, made)

    def _came(self, wanted: Wanted, version: int, made: Audit) -> None:
        """Show an audit, unless another one was asked for meanwhile."""
        if wanted is not self._asked or not self.is_mounted:
            return
        self.waiting = False
        self.made, self._leaves, self._made_of = (made, wanted), 0, version
        self.show_page()
        if wanted.format == "pdf" and len(made.items) <= MOST_COUNTED:
            self.run_worker(self._count_leaves, thread=True, exclusive=True, group="leaves", exit_on_error=False)

    def _count_leaves(self) -> None:
        """In a thread, for a long audit is long to lay out; what is shown meanwhile names no pages."""
        made = self.made
        if made is not None:
            leaves = self.book.auditing.page_count(*made)
            if not get_current_worker().is_cancelled:
                self.app.call_from_thread(self._counted, made, leaves)

    def _counted(self, made: tuple[Audit, Wanted], leaves: int) -> None:
        if made is self.made and self.is_mounted:
            self._leaves = leaves
            self.show_page()

    def show_page(self) -> None:
        """Show what would be written."""
        if self.made is not None:
            page = AuditPage(
                *self.made, leaves=self._leaves, written=self.written, faults=self.faults, waiting=self.waiting
            )
            self.page.show(page.lines)
        elif self.waiting:
            self.page.show(being_made)

    # Moving

    @property
    def typing(self) -> bool:
        """Whether the focus is in the form."""
        return bool(self.form.focused_field)

    def action_turn(self) -> None:
        """From the page to the form and back."""
        self.to_page() if self.typing else self.to_form()

    def to_form(self, field: str = "") -> None:
        """Go to a field, by default the first."""
        self.add_class("-typing")
        self.call_after_refresh(self.form.focus_field, field or self.form.fields[0].name)

    def to_page(self) -> None:
        """Go to the page."""
        self.page.focus()
        self.remove_class("-typing")

    @on(AuditForm.Beside)
    def _beside(self, event: AuditForm.Beside) -> None:
        page = self.page
        page.scroll_relative(y=event.step * max(page.size.height - OVERLAP, 1), animate=False)

    def on_descendant_focus(self) -> None:
        """Tab too goes from one to the other."""
        self.set_class(self.typing, "-typing")
        self.renew_keys()

    def action_back(self) -> None:
        """From the form to the page; from the page to Today."""
        if self.typing:
            self.to_page()
        else:
            self.gearlog.go("today")
