"""How a record list is drawn: the heading that stays, the rows in view, or what to do when there is none."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Generic, TypeVar

from rich.segment import Segment
from rich.style import Style
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from gearlog.tui.text import cell, wrapped
from gearlog.tui.widgets.columns import Column, visible_columns, widths
from gearlog.tui.widgets.rows import Rows

Row = TypeVar("Row")

MARKER = "> "
NO_MARKER = "  "
NOTHING = "Nothing fits the filter. Escape clears it."


class DrawnList(ScrollView, Generic[Row]):
    """Draws line by line, only what is in view.

    Attributes:
        columns: what each row says.
        rows: the records, filtered and sorted.
        empty: what an empty list says to do.
        nothing: what it says when no row passes the filter.
        cursor: place of the chosen row among those shown.
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = {f"record-list--{name}" for name in
                                             ("heading", "chosen", "bad", "warn", "quiet", "accent")}  # fmt: skip
    DEFAULT_CSS = """
    DrawnList {
        height: 1fr; overflow-x: hidden; scrollbar-size-vertical: 1; background: $ground;
        & > .record-list--heading { color: $quiet; }
        & > .record-list--chosen { background: $chosen; }
        & > .record-list--bad { color: $bad; }
        & > .record-list--warn { color: $warn; }
        & > .record-list--quiet { color: $quiet; }
        & > .record-list--accent { color: $accent; }
        &:nocolor > .record-list--chosen { text-style: reverse; }
        &:focus > .record-list--chosen { text-style: bold; }
        &:nocolor:focus > .record-list--chosen { text-style: bold reverse; }
    }
    """

    cursor: reactive[int] = reactive(0)

    def __init__(self, columns: Sequence[Column[Row]], rows: Rows[Row], empty: str, *, id: str | None) -> None:  # noqa: A002
        super().__init__(id=id)
        self.columns = tuple(columns)
        self.rows = rows
        self.empty = empty
        self.nothing = NOTHING

    def render_line(self, y: int) -> Strip:
        """One line: the heading, a row, or what to do when there is none."""
        width = self.scrollable_content_region.width
        if not self.rows.shown:
            return self._empty_line(y, width)
        row = self.scroll_offset.y + y - 1
        if y == 0:
            return self._strip([(column.heading, "heading") for column in self._columns(width)], width, "heading")
        if row >= len(self.rows.shown):
            return Strip.blank(width, self.rich_style)
        record = self.rows.shown[row]
        texts = [(column.text(record), column.style(record)) for column in self._columns(width)]
        return self._strip(texts, width, "chosen" if row == self.cursor else "")

    def _columns(self, width: int) -> tuple[Column[Row], ...]:
        return visible_columns(self.columns, width)

    def _style(self, name: str) -> Style:
        return self.get_component_rich_style(f"record-list--{name}", partial=True) if name else Style.null()

    def _strip(self, texts: list[tuple[str, str]], width: int, line: str) -> Strip:
        columns = self._columns(width)
        base = self.rich_style + self._style(line)
        segments = [Segment(MARKER if line == "chosen" else NO_MARKER, base)]
        for column, room, (text, style) in zip(columns, widths(columns, width), texts, strict=True):
            segments.append(Segment(cell(text, room, right=column.right), base + self._style(style)))
            segments.append(Segment("  ", base))
        return Strip(segments).adjust_cell_length(width, base)

    def _empty_line(self, y: int, width: int) -> Strip:
        text = self.nothing if self.rows.all else self.empty
        lines = wrapped(text, width - 4)
        text = lines[y - 1] if 1 <= y <= len(lines) else ""
        return Strip([Segment("  " + text, self.rich_style + self._style("quiet"))]).adjust_cell_length(
            width, self.rich_style
        )
