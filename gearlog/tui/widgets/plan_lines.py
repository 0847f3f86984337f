"""The planner's page: it scrolls by keys, and a cursor goes from number to number, so that one key explains it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from rich.segment import Segment
from textual.binding import BindingType
from textual.geometry import Size
from textual.message import Message
from textual.strip import Strip

from gearlog.tui.keys import bindings
from gearlog.tui.widgets.lines_view import MARGIN, LinesView, Page

HERE, ELSEWHERE = "> ", "  "


class PlanLines(LinesView):
    """Lines with a key hold numbers; the cursor stops at them while the page has the focus."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("plan-page")

    @dataclass
    class Asked(Message):
        """Enter was pressed on a number."""

        key: str

    def __init__(self) -> None:
        super().__init__()
        self._at = ""

    @property
    def at(self) -> str:
        """The key of the number under the cursor, or empty."""
        return self._at if self.has_focus and self._place() is not None else ""

    def show(self, page: Page, *, from_top: bool = False) -> None:
        """Show another page; one that begins at its top begins without a cursor."""
        if from_top:
            self._at = ""
        super().show(page, from_top=from_top)

    def _make(self) -> None:
        self._width = self.scrollable_content_region.width
        room = self._width - MARGIN - len(HERE)
        self.lines = self._page(room) if room > 0 else ()
        self.virtual_size = Size(self._width, len(self.lines))
        self.refresh()

    def _place(self) -> int | None:
        return next((number for number, line in enumerate(self.lines) if line.key and line.key == self._at), None)

    def _window(self) -> range:
        top = self.scroll_offset.y
        return range(top, top + self.size.height)

    def _go(self, step: int) -> None:
        """On to the next number in view, or a line further."""
        window, here = self._window(), self._place()
        edge = window.start if step > 0 else window.stop - 1
        begin = here + step if here is not None and here in window else edge
        found = next((number for number in range(begin, window.stop if step > 0 else window.start - 1, step)
                      if number < len(self.lines) and self.lines[number].key), None)  # fmt: skip
        if found is None:
            self.scroll_relative(y=step, animate=False)
        else:
            self._at = self.lines[found].key
        self.refresh()

    def action_scroll_down(self) -> None:
        """On to the next number, or a line down."""
        self._go(1)

    def action_scroll_up(self) -> None:
        """Back to the number before, or a line up."""
        self._go(-1)

    def action_open(self) -> None:
        """Ask why the number under the cursor is what it is."""
        if self.at:
            self.post_message(self.Asked(self.at))

    def on_focus(self) -> None:
        """The cursor shows only while the page has the focus."""
        self.refresh()

    def on_blur(self) -> None:
        """And no longer."""
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """Draw line ``y`` of the window, with the mark of the cursor before it."""
        number = y + self.scroll_offset.y
        width = self.scrollable_content_region.width
        if number >= len(self.lines):
            return Strip.blank(width, self.rich_style)
        line = self.lines[number]
        here = bool(self.at) and number == self._place()
        style = self.get_component_rich_style(f"line--{'chosen' if here else line.tone.value}")
        text = (HERE if here else ELSEWHERE) + line.text
        return Strip([Segment(text, style)]).adjust_cell_length(width, style).crop(0, width)
