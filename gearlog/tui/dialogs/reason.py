"""One line of text: a reason or a name that must be given, a remark that may be taken away again."""

from __future__ import annotations

from textual import on
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Input, Static

from gearlog.services.forms import Field
from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.text import content
from gearlog.tui.widgets.controls import LineControl


class ReasonDialog(Dialog[str]):
    """Asks for a reason; Enter takes it when it is not empty or may be ``empty``, Escape answers None."""

    def __init__(
        self,
        title: str,
        words: str = "",
        *,
        hint: str = "why, in a few words",
        start: str = "",
        empty: bool = False,
    ) -> None:
        super().__init__()
        self.heading = title
        self.words = words
        self.hint = hint
        self.start = start
        self.empty = empty

    def compose(self) -> ComposeResult:
        """Title, words, the line, what is wrong with it."""
        with Vertical():
            yield Static(content(self.heading), classes="dialog--title")
            if self.words:
                yield Static(content(self.words), classes="dialog--words")
            yield LineControl(Field("reason", "reason", hint=self.hint), self.start)
            yield Static(classes="dialog--fault")
            yield Static(content("enter: take it    esc: back, nothing is changed"), classes="dialog--keys")

    def on_mount(self) -> None:
        """Type at once."""
        self.query_one(LineControl).focus()

    @on(Input.Submitted)
    def _take(self, event: Input.Submitted) -> None:
        if event.value.strip() or self.empty:
            self.answer(event.value.strip())
        else:
            self.query_one(".dialog--fault", Static).update(content("! type a reason, or leave with Escape"))
