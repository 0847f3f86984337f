"""What the tape said: a mark is chosen, a number typed, and at every letter it is said what it means."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Input, Static

from gearlog.errors import GearlogError, InvalidRecordError
from gearlog.services.bench_verdicts import EYE, read_measure, verdict_of
from gearlog.services.bench_views import BenchView, Measurable, Verdict
from gearlog.services.forms import Field
from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.keys import bindings
from gearlog.tui.text import cell, content
from gearlog.tui.widgets.bench_words import first_to_measure, kept_words, next_unmeasured
from gearlog.tui.widgets.controls import LineControl
from gearlog.tui.widgets.plan_figures import Figures

NAME, PLANNED = 36, 10  # cells of the list's columns
Keep = Callable[[str, str], Verdict]
"""Saves a measure (what, text) and says what it means; raises InvalidRecordError."""


class MeasureDialog(Dialog[Verdict]):
    """Answers the last verdict, or None. Goes on to the step's next mark until all are measured.

    Args:
        view: the bench, whose measurable things are offered.
        keep: saves one measure.
        renew: the bench as it stands after a save.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings("dialog", "choose")
    DEFAULT_CSS = """
    MeasureDialog > Vertical { width: 76; }
    MeasureDialog #marks { height: auto; margin-bottom: 1; }
    MeasureDialog #verdict { height: auto; min-height: 3; margin-top: 1; }
    """

    def __init__(self, view: BenchView, keep: Keep, renew: Callable[[], BenchView]) -> None:
        super().__init__()
        self.view = view
        self.at = first_to_measure(view)
        self._keep = keep
        self._renew = renew
        self._last: Verdict | None = None

    def compose(self) -> ComposeResult:
        """The marks, the line, what it means."""
        unit = "in" if Figures(self.view.plan).imperial else "mm"
        hint = f"a number alone is {unit}; fractions too: 21 3/8 in, 54.3 cm"
        with Vertical():
            yield Static(content("What did the tape say?"), classes="dialog--title")
            yield Static(id="marks")
            yield LineControl(Field("measure", "measure", hint=hint))
            yield Static(id="verdict")
            yield Static(content("enter: keep it    up, down: another mark    esc: back"), classes="dialog--keys")

    def on_mount(self) -> None:
        """Type at once."""
        self._show()
        self.query_one(LineControl).focus()

    def _show(self) -> None:
        lines = [self._row(one) for one in self.view.measurable]
        self.query_one("#marks", Static).update(Content("\n").join(lines))

    def _row(self, one: Measurable) -> Content:
        figures, here = Figures(self.view.plan), one.what == self.at
        name = one.label if one.what == EYE else f"mark {one.label}"
        planned = cell(figures.length(one.planned_m), PLANNED, right=True)
        said = "" if one.verdict is None else kept_words(one.verdict)
        line = f"{'>' if here else ' '} {cell(name, NAME)}{planned}   {said}"
        return content(line, "bold" if here else "")

    @on(Input.Changed)
    def _judge(self, event: Input.Changed) -> None:
        self._tell(self._meaning(event.value))

    def _meaning(self, text: str) -> Content:
        if not text.strip():
            return Content("")
        try:
            return _said(verdict_of(self.at, read_measure(self.at, text, self.view.plan), self.view.plan))
        except InvalidRecordError:
            return content("not a length yet", "$quiet")

    def _tell(self, words: Content) -> None:
        self.query_one("#verdict", Static).update(words)

    @on(Input.Submitted)
    def _take(self, event: Input.Submitted) -> None:
        try:
            self._last = self._keep(self.at, event.value)
        except InvalidRecordError as error:
            fault = error.faults[0]
            self._tell(content(f"! {fault.reason}; {fault.way_out}", "$bad"))
        except GearlogError as error:
            self._tell(content(f"! {error.title}: {error.message}", "$bad"))
        else:
            self._next()

    def _next(self) -> None:
        self.view = self._renew()
        after = next_unmeasured(self.view, self.at)
        if not after or (after == EYE and not self.view.at_end) or self._last is None:
            self.answer(self._last)
            return
        self.at = after
        self.query_one(LineControl).text = ""
        self._show()
        self.call_after_refresh(self._tell, _said(self._last))

    def action_row(self, step: int) -> None:
        """Another mark."""
        names = [one.what for one in self.view.measurable]
        self.at = names[(names.index(self.at) + step) % len(names)]
        self._show()
        self._tell(self._meaning(self.query_one(LineControl).value))

    def action_back(self) -> None:
        """Leave; what was kept is kept."""
        self.answer(self._last)


def _said(verdict: Verdict) -> Content:
    """The verdict in words; what is too far off says so first."""
    if verdict.within is False:
        return content(f"TOO FAR OFF: {verdict.words}", "$bad bold")
    return content(verdict.words, "bold")
