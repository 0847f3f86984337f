"""The help: what one can do on the screen, and the table of its keys, made from the table of all keys."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.keys import EVERYWHERE, Key, bindings, keys_of
from gearlog.tui.text import content

KEY_WIDTH = 18  # cells for 'page down or ...'; longer ones push their line


class HelpDialog(Dialog[None]):
    """Words and keys of one screen; up and down scroll, any of esc, ? and f1 closes."""

    BINDINGS: ClassVar = [*bindings("help"), ("question_mark,f1,enter,q", "back", "close")]
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
        with Vertical():
            yield Static(content(self.heading), classes="dialog--title")
            with VerticalScroll():
                yield Static(content(self.words + "\n"))
                yield Static(self._table())
            yield Static(content("up, down: scroll    esc: close"), classes="dialog--keys")

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()

    def _table(self) -> Content:
        sections = [("Keys here", self.where), ("In lists", ("list",)), ("In forms", ("form", "choice", "ticks")),
                    ("Everywhere", (EVERYWHERE,))]  # fmt: skip
        return Content("\n").join(self._section(title, keys_of(*where)) for title, where in sections)

    @staticmethod
    def _section(title: str, rows: tuple[Key, ...]) -> Content:
        lines = [Content.assemble(Content.styled(f"{row.shown:<{KEY_WIDTH}} ", "bold"), row.tip) for row in rows]
        return Content("\n").join([Content.styled(title, "$accent bold"), *lines, Content("")])
