"""The help: what one can do on the screen, and the table of its keys, made from the table of all keys."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.keys import EVERYWHERE, Key, bindings, keys_of
from gearlog.tui.text import content, wrapped

KEY_WIDTH = 17  # cells for 'backspace or delete'; a longer one pushes its line
WIDTH, FRAME = 78, 10  # cells of the dialog, and of what stands around its words


class HelpDialog(Dialog[None]):
    """Words and keys of one screen; up and down scroll, any of esc, ? and f1 closes."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings("help"), ("question_mark,f1,enter,q", "back", "close")]
    DEFAULT_CSS = """
    HelpDialog > Vertical { width: 78; height: 100%; }
    HelpDialog VerticalScroll { height: 1fr; scrollbar-size-vertical: 1; }
    """

    def __init__(self, title: str, words: str, *where: str) -> None:
        super().__init__()
        self.heading = title
        self.words = words
        self.where = where

    def compose(self) -> ComposeResult:
        """Words, then keys."""
        with Vertical():
            yield Static(content(self.heading), classes="dialog--title")
            with VerticalScroll():
                yield Static(content(self.words + "\n"))
                yield Static(self._table())
            yield Static(content("up, down: scroll    esc: close"), classes="dialog--keys")

    def on_mount(self) -> None:
        """Up and down scroll at once."""
        self.query_one(VerticalScroll).focus()

    def _table(self) -> Content:
        sections = [("Keys here", self.where), ("In lists", ("list",)), ("In forms", ("form", "choice", "ticks")),
                    ("Everywhere", (EVERYWHERE,))]  # fmt: skip
        width = min(self.app.size.width, WIDTH) - FRAME
        return Content("\n").join(self._section(title, keys_of(*where), width) for title, where in sections)

    @staticmethod
    def _section(title: str, rows: tuple[Key, ...], width: int) -> Content:
        lines = [line for row in rows for line in HelpDialog._lines(row, width)]
        return Content("\n").join([Content.styled(title, "$accent bold"), *lines, Content("")])

    @staticmethod
    def _lines(row: Key, width: int) -> list[Content]:
        first, *more = wrapped(row.tip, width - KEY_WIDTH - 1)
        shown = Content.styled(f"{row.shown:<{KEY_WIDTH}} ", "bold")
        return [Content.assemble(shown, first), *(Content(" " * (KEY_WIDTH + 1) + line) for line in more)]
