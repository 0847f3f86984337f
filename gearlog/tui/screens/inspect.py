"""Inspect: what to look at on one item, one key an answer, what was found and where, and the verdict that follows.

The half-done sheet is a draft: every answer is kept, over leaving the screen and over quitting.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from msgspec.structs import replace
from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.widgets import Static

from gearlog.domain.inspection import Finding, Mark, Severity
from gearlog.domain.item import Item
from gearlog.services.sheet import Sheet
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.dialogs.confirm import ConfirmDialog
from gearlog.tui.keys import bindings
from gearlog.tui.screens.base import OPEN_FORM, GearlogScreen
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.inspect_forms import INSPECT, finding_task, finish_task
from gearlog.tui.text import content
from gearlog.tui.widgets.asked import Asked, asked_columns, asked_of, finding_words, line_words
from gearlog.tui.widgets.paper import Paper
from gearlog.tui.widgets.record_list import RecordList
from gearlog.tui.widgets.verdict import TITLES, sum_words

MARGINS = 4  # cells beside the words of a line
WIDE = 100  # columns from which the lines and the words of one stand side by side


class InspectScreen(GearlogScreen[object]):
    """One inspection under way; ends with the saved record, or None when one went back."""

    PLACE = "gear"
    KEYS = "inspect"
    BINDINGS: ClassVar[list[BindingType]] = bindings("inspect")
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide")]  # noqa: RUF012 (the toolkit's shape)
    HELP = (
        "What to look at on this item, line by line: below stands how to look, what is to be watched and what takes it "
        "out of service. p passes, w is to be watched, f fails, n does not apply; a adds a finding with its distance "
        "from end A. P lets the rest pass, once every line was under the cursor. ctrl+s goes to the verdict, which "
        "follows from the answers: stricter as you like, milder only with a written reason. What is half done is kept."
    )
    DEFAULT_CSS = """
    InspectScreen > .inspect--title { height: auto; padding: 0 2; text-style: bold; margin-top: 1; }
    InspectScreen > #sum { height: 2; padding: 0 2; }
    InspectScreen #sides { height: 1fr; }
    InspectScreen RecordList { width: 1fr; }
    InspectScreen.-narrow #sides { layout: vertical; }
    InspectScreen.-narrow Paper { height: 11; width: 1fr; border-top: solid $line; }
    InspectScreen.-wide Paper { width: 1fr; height: 1fr; border-left: solid $line; }
    """

    def __init__(self, item: Item, sheet: Sheet) -> None:
        super().__init__()
        self.item = item
        self.sheet = sheet

    # The parts

    def parts(self) -> ComposeResult:
        """What is inspected and how it stands, the lines, one of them in words."""
        title = f"{TITLES[self.sheet.kind]}: {self.item.tag}, {self.item.name}"
        yield Static(content(title), classes="inspect--title")
        yield Static(id="sum")
        with Horizontal(id="sides"):
            yield RecordList(asked_columns(), identity=lambda asked: asked.line.key,
                             search=lambda asked: asked.line.look, empty="Nothing is asked of it.",
                             records=asked_of(self.sheet))  # fmt: skip
            yield Paper()

    def on_mount(self) -> None:
        """Begin at the first line without an answer."""
        self.gearlog.memory.choose(OPEN_FORM, self.draft)
        lines = self.query_one(RecordList)
        first = self.sheet.unanswered[0] if self.sheet.unanswered else self.sheet.lines[0]
        lines.focus()
        lines.choose(first.key)
        self._show()

    def on_screen_resume(self) -> None:
        """Back from one of its forms, it is again what is open."""
        self.gearlog.memory.choose(OPEN_FORM, self.draft)

    @property
    def draft(self) -> str:
        """Name under which the half-done sheet is kept."""
        return f"{INSPECT}:{self.item.id}"

    def _take(self, sheet: Sheet) -> None:
        """Another state of the sheet; it is kept when anything was answered."""
        self.sheet = sheet
        if sheet.answers or sheet.findings:
            self.gearlog.memory.keep_draft(self.draft, sheet.draft())
        self._show()

    def _show(self) -> None:
        self.query_one(RecordList).show(asked_of(self.sheet))
        self.query_one("#sum", Static).update(sum_words(self.sheet))
        self._describe()

    def _describe(self, *, top: bool = False) -> None:
        asked: Asked | None = self.query_one(RecordList).chosen_row
        paper = self.query_one(Paper)
        if asked is not None and paper.size.width:
            paper.show(line_words(self.sheet, asked, max(paper.size.width - MARGINS, MARGINS)), top=top)

    def on_resize(self) -> None:
        """Words are set anew for the new width."""
        self.call_after_refresh(self._describe)

    @on(RecordList.Chosen)
    def _chosen(self, event: RecordList.Chosen) -> None:
        """A line under the cursor is seen: its words stand before the inspector."""
        if event.record_id and event.record_id not in self.sheet.seen:
            self._take(self.sheet.see(event.record_id))
        self._describe(top=True)

    # Answering

    @property
    def _key(self) -> str:
        return self.query_one(RecordList).chosen_id

    def action_answer(self, mark: str) -> None:
        """Answer the line under the cursor and go on to the next; what fails is said in words."""
        key = self._key
        if not key:
            return
        self._take(self.sheet.answer(key, Mark(mark)))
        if mark == Mark.FAIL and not _findings(self.sheet, key):
            self._ask_finding(key, Severity.STOP)
        else:
            self.query_one(RecordList).action_row(1)

    def action_pass_rest(self) -> None:
        """Let every line without an answer pass, once each was seen."""
        sheet = self.gearlog.attempt(self.sheet.pass_rest)
        if sheet is not None:
            passed = len(self.sheet.unanswered)
            self._take(sheet)
            self.gearlog.tell(f"{passed} passed. ctrl+s goes to the verdict.")
        elif self.sheet.unseen:
            self.query_one(RecordList).choose(self.sheet.unseen[0].key)

    # Findings

    def action_add(self) -> None:
        """Write down what was seen under this line."""
        self._ask_finding(self._key, Severity.WATCH)

    @on(RecordList.Opened)
    def _opened(self) -> None:
        self.action_change() if _findings(self.sheet, self._key) else self.action_add()

    def _ask_finding(self, key: str, severity: Severity) -> None:
        task = finding_task(self.book, self.item, self.sheet, key, severity)
        self.app.push_screen(FormScreen(task), self._found)

    def _found(self, finding: Finding | None) -> None:
        if finding is not None:
            self._take(self.sheet.with_finding(finding))
            if self._key == finding.line and finding.line in self.sheet.answers:
                self.query_one(RecordList).action_row(1)

    def action_change(self) -> None:
        """Change a finding."""
        self._choose_finding("Change which finding?", self._change)

    def _change(self, finding_id: str | None) -> None:
        for finding in self.sheet.findings:
            if finding.id == finding_id:
                task = finding_task(self.book, self.item, self.sheet, finding.line, finding.severity, finding)
                self.app.push_screen(FormScreen(task), self._found)

    def action_strike(self) -> None:
        """Take a finding away that was written by mistake; nothing of it is saved yet."""
        self._choose_finding("Take which finding away?", self._drop)

    def _drop(self, finding_id: str | None) -> None:
        if finding_id:
            self._take(self.sheet.without_finding(finding_id))

    def _choose_finding(self, title: str, then: Callable[[str | None], None]) -> None:
        own = _findings(self.sheet, self._key) or self.sheet.findings
        if not own:
            self.gearlog.tell("Nothing was found so far: a adds a finding.", "warning")
            return
        choices = [(finding.id, finding_words(finding)) for finding in own]
        self.app.push_screen(ChooseDialog(title, choices, own[0].id), then)

    # The end

    def action_save(self) -> None:
        """On to who inspected and what follows, when every line has its answer."""
        left = self.sheet.unanswered
        if left:
            self.query_one(RecordList).choose(left[0].key)
            words = "one line has" if len(left) == 1 else f"{len(left)} lines have"
            self.gearlog.tell(f"{words} no answer yet. P lets the rest pass, once each was seen.", "warning")
            return
        self.app.push_screen(FormScreen(finish_task(self.book, self.item, self.sheet)), self._finished)

    def _finished(self, record: object) -> None:
        if record is not None:
            self.gearlog.memory.drop_draft(self.draft)
            self._leave(record)

    def action_afresh(self) -> None:
        """Begin again with no answer, once asked."""
        words = "All answers and findings so far are thrown away."
        self.app.push_screen(ConfirmDialog("Begin this inspection afresh?", words), self._empty)

    def _empty(self, sure: bool | None) -> None:  # noqa: FBT001 (a dialog's answer)
        if sure:
            self.gearlog.memory.drop_draft(self.draft)
            self._take(replace(self.sheet, seen=frozenset(), answers={}, findings=()))
            self.query_one(RecordList).action_first()

    def action_back(self) -> None:
        """Leave; what was answered is kept."""
        if self.is_current:
            if self.gearlog.memory.draft(self.draft) is not None:
                self.gearlog.tell("Kept as you left it; i goes on with it.")
            self._leave(None)

    def _leave(self, record: object) -> None:
        self.gearlog.memory.choose(OPEN_FORM, "")
        self.dismiss(record)


def _findings(sheet: Sheet, key: str) -> tuple[Finding, ...]:
    return tuple(finding for finding in sheet.findings if finding.line == key)
