"""A page of lines over a main screen: what it is about stays in view above, Escape leads back to where one was."""

from __future__ import annotations

from collections.abc import Callable

from textual.app import ComposeResult
from textual.widgets import Static

from gearlog.tui.screens.base import GearlogScreen
from gearlog.tui.text import content
from gearlog.tui.widgets.lines import Line
from gearlog.tui.widgets.lines_view import LinesView

Lines = Callable[[int], tuple[Line, ...]]
"""Makes lines for a width in cells."""


class PageOver(GearlogScreen[None]):
    """The frame of such a page; its kinds bind their keys and call ``show_page``.

    Args:
        place: the main screen that it lies over.
    """

    DEFAULT_CSS = """
    PageOver LinesView { padding: 0 1 0 2; background: $ground; }
    PageOver #about { height: auto; padding: 1 1 0 2; text-style: bold; color: $accent; }
    """

    def __init__(self, place: str) -> None:
        super().__init__()
        self._place = place

    @property
    def PLACE(self) -> str:  # type: ignore[override]  # noqa: N802 (a constant of the other screens)
        """The main screen that it lies over."""
        return self._place

    def parts(self) -> ComposeResult:
        """What it is about, which stays, and one page below."""
        yield Static(id="about")
        yield LinesView()

    def on_mount(self) -> None:
        """Up and down scroll at once."""
        self.query_one(LinesView).focus()
        self.begin()

    def begin(self) -> None:
        """Show the first page."""

    def show_page(self, about: Lines, page: Lines, *, from_top: bool = False) -> None:
        """Show a page under what it is about; both are folded for the same width."""

        def folded(width: int) -> tuple[Line, ...]:
            self.query_one("#about", Static).update(content("\n".join(line.text for line in about(width))))
            return page(width)

        self.query_one(LinesView).show(folded, from_top=from_top)

    def action_back(self) -> None:
        """Back to where one came from."""
        if self.is_current:
            self.dismiss(None)
