"""A page of text beside or over a list; it scrolls by the keys that move."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Static


class Paper(VerticalScroll, can_focus=True):
    """Shows one record in words; ``show`` puts another one on it, from its first line."""

    class Widened(Message):
        """The page has another width: what is folded or drawn to it is set anew."""

    DEFAULT_CSS = """
    Paper { scrollbar-size-vertical: 1; background: $ground; padding: 0 1 0 2; }
    Paper > Static { height: auto; }
    """

    def compose(self) -> ComposeResult:
        """One text."""
        yield Static()

    def on_mount(self) -> None:
        """No width is known yet."""
        self._told_width = 0

    def on_resize(self) -> None:
        """Tell of another width; of the height nothing depends."""
        if self.outer_size.width != self._told_width:
            self._told_width = self.outer_size.width
            self.post_message(self.Widened())

    def show(self, words: Content, *, top: bool = True) -> None:
        """Put words on the page; ``top`` False keeps the place one had scrolled to."""
        self.query_one(Static).update(words)
        if top:
            self.scroll_home(animate=False)
