"""The line over a list in which one types what to look for, and how many rows are left."""

from __future__ import annotations

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.message import Message
from textual.widgets import Input, Static

from gearlog.services.forms import Field
from gearlog.tui.text import content
from gearlog.tui.widgets.controls import LineControl

HINT = "press / and type words to find"


class FilterLine(Horizontal):
    """Messages: ``Typed(text)`` on each change, ``Left`` on Enter or the down key."""

    DEFAULT_CSS = """
    FilterLine { height: 1; background: $ground; }
    FilterLine > LineControl { width: 1fr; margin: 0 1 0 2; }
    FilterLine > Static { width: 36; max-width: 45%; height: 1; color: $quiet; margin: 0 2 0 0; text-align: right; }
    """

    class Typed(Message):
        """The text changed."""

        def __init__(self, text: str) -> None:
            super().__init__()
            self.text = text

    class Left(Message):
        """The user goes on to the list."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self._start = text

    def compose(self) -> ComposeResult:
        """The line and the words beside it."""
        yield LineControl(Field("filter", "filter", hint=HINT), self._start)
        yield Static()

    @property
    def text(self) -> str:
        """What is typed."""
        return self.query_one(LineControl).value

    def clear(self) -> None:
        """Empty it."""
        self.query_one(LineControl).text = ""

    def type(self) -> None:
        """Put the focus into it."""
        self.query_one(LineControl).focus()

    @property
    def typing(self) -> bool:
        """Whether the focus is in it."""
        return self.query_one(LineControl).has_focus

    def tell(self, words: str) -> None:
        """Say how many rows are left and what else narrows them."""
        self.query_one(Static).update(content(words), layout=False)

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        event.stop()
        self.post_message(self.Typed(event.value))

    @on(Input.Submitted)
    def _left(self, event: Input.Submitted) -> None:
        event.stop()
        self.post_message(self.Left())

    def key_down(self) -> None:
        """Down goes to the list as Enter does."""
        self.post_message(self.Left())
