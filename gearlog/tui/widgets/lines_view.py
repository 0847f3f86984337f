"""A page of lines that scrolls by keys and draws only what shows; a new page never moves the place read."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from rich.segment import Segment
from textual import events
from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from gearlog.tui.widgets.lines import Line, Tone

Page = Callable[[int], tuple[Line, ...]]
"""Makes the lines of a page for a width in cells."""


MARGIN = 1  # cells between the words and the scrollbar


class LinesView(ScrollView, can_focus=True):
    """Shows what a page function makes for the width there is."""

    DEFAULT_CSS = """
    LinesView { height: 1fr; overflow-x: hidden; scrollbar-size-vertical: 1; scrollbar-gutter: stable; }
    LinesView > .line--head { text-style: bold; color: $accent; }
    LinesView > .line--strong { text-style: bold; }
    LinesView > .line--muted { color: $quiet; }
    LinesView > .line--stop { text-style: bold; color: $bad; }
    LinesView > .line--warn { text-style: bold; color: $warn; }
    LinesView > .line--chosen { background: $chosen; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {f"line--{tone.value}" for tone in Tone}

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 (Textual's own name)
        super().__init__(id=id)
        self._page: Page = lambda _: ()
        self._width = 0
        self.lines: tuple[Line, ...] = ()

    def show(self, page: Page, *, from_top: bool = False) -> None:
        """Show another page, at the same place unless ``from_top``."""
        self._page = page
        self._make()
        if from_top:
            self.scroll_home(animate=False)

    def scroll_to_key(self, key: str) -> bool:
        """Bring the line that stands for ``key`` to the top; False when there is none."""
        for number, line in enumerate(self.lines):
            if line.key == key:
                self.scroll_to(y=number, animate=False)
                return True
        return False

    @property
    def text(self) -> str:
        """The whole page as plain text."""
        return "\n".join(line.text for line in self.lines)

    def _make(self) -> None:
        self._width = self.scrollable_content_region.width
        self.lines = self._page(self._width - MARGIN) if self._width > MARGIN else ()
        self.virtual_size = Size(self._width, len(self.lines))
        self.refresh()

    def on_resize(self, event: events.Resize) -> None:
        """Another width folds the words anew."""
        event.stop()
        if self.scrollable_content_region.width != self._width:
            self._make()

    def render_line(self, y: int) -> Strip:
        """Draw line ``y`` of the window."""
        number = y + self.scroll_offset.y
        width = self.scrollable_content_region.width
        if number >= len(self.lines):
            return Strip.blank(width, self.rich_style)
        line = self.lines[number]
        style = self.get_component_rich_style(f"line--{line.tone.value}")
        return Strip([Segment(line.text, style)]).adjust_cell_length(width, style).crop(0, width)
