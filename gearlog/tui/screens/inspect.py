"""Inspect: what to look at on one item, one key an answer, what was found and where, and the verdict that follows.

The half-done sheet is a draft: every answer is kept, over leaving the screen and over quitting.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from msgspec.structs import replace
from textual import on
from textual.binding import BindingType

from gearlog.domain.inspection import Finding, Mark, Severity
from gearlog.services.sheet import Sheet
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.dialogs.confirm import ConfirmDialog
from gearlog.tui.keys import bindings
from gearlog.tui.screens.base import OPEN_FORM
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.inspect_forms import finding_task, finish_task
from gearlog.tui.screens.inspect_page import InspectPage
from gearlog.tui.widgets.asked import finding_words
from gearlog.tui.widgets.record_list import RecordList


class InspectScreen(InspectPage):
    """One inspection under way; ends with the saved record, or None when one went back."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("inspect")
    HELP = (
        "What to look at on this item, line by line: below stands how to look, what is to be watched and what takes it "
        "out of service. p passes, w is to be watched, f fails, n does not apply; a adds a finding with its distance "
        "from end A or from the throat there, and its photos; what was found answers its line. P lets the rest pass, "
        "once every line was under the cursor. ctrl+s goes to the verdict, which follows from the answers: stricter as "
        "you like, milder only with a written reason. What is half done is kept."
    )

    # Answering

    def action_answer(self, mark: str) -> None:
        """Answer the line under the cursor and go on to the next; what fails is said in words."""
        key = self.key
        if not key:
            return
        self.take(self.sheet.answer(key, Mark(mark)))
        if mark == Mark.FAIL and not _findings(self.sheet, key):
            self._ask_finding(key, Severity.STOP)
        else:
            self.lines.action_row(1)

    def action_pass_rest(self) -> None:
        """Let every line without an answer pass, once each was seen."""
        sheet = self.gearlog.attempt(self.sheet.pass_rest)
        if sheet is not None:
            passed = len(self.sheet.unanswered)
            self.take(sheet)
            self.gearlog.tell(f"{passed} passed. ctrl+s goes to the verdict.")
        elif self.sheet.unseen:
            self.lines.choose(self.sheet.unseen[0].key)

    # Findings

    def action_add(self) -> None:
        """Write down what was seen under this line."""
        self._ask_finding(self.key, Severity.WATCH)

    @on(RecordList.Opened)
    def _opened(self) -> None:
        self.action_change() if _findings(self.sheet, self.key) else self.action_add()

    def _ask_finding(self, key: str, severity: Severity) -> None:
        task = finding_task(self.book, self.item, self.sheet, key, severity)
        self.app.push_screen(FormScreen(task), self._found)

    def _found(self, finding: Finding | None) -> None:
        if finding is not None:
            self.take(self.sheet.with_finding(finding))
            if self.key == finding.line and finding.line in self.sheet.answers:
                self.lines.action_row(1)

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
            self.take(self.sheet.without_finding(finding_id))

    def _choose_finding(self, title: str, then: Callable[[str | None], None]) -> None:
        own = _findings(self.sheet, self.key) or self.sheet.findings
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
            self.lines.choose(left[0].key)
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
            self.take(replace(self.sheet, seen=frozenset(), answers={}, findings=()))
            self.lines.action_first()

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
