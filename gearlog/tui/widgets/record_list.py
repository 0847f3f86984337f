"""A list of records that draws only the rows in view: as quick with 50,000 rows as with five.

Use: ``RecordList(columns, identity=lambda row: row.item.id, search=lambda row: row.search, empty="...")``, with
``records`` where it shall be full in the first picture; then ``show(rows)`` whenever the records changed,
``filter(text)`` on each typed letter, ``narrow(test)`` for a choice of kind or state, ``sort_by(key)``. The cursor
stays on its record through all of these; ``choose(id)`` sets it.
Messages: ``Chosen`` when the cursor came to another record (empty id: no row is left), ``Opened`` on Enter.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar, Generic, TypeVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import BindingType
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from gearlog.tui.keys import bindings
from gearlog.tui.text import cell, wrapped
from gearlog.tui.widgets.columns import Column, visible_columns, widths
from gearlog.tui.widgets.rows import Rows

Row = TypeVar("Row")

MARKER = "> "
NO_MARKER = "  "


class RecordList(ScrollView, Generic[Row], can_focus=True):
    """The list; its first line is the heading, which stays while the rows scroll."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("list")
    COMPONENT_CLASSES: ClassVar[set[str]] = {f"record-list--{name}" for name in
                                             ("heading", "chosen", "bad", "warn", "quiet", "accent")}  # fmt: skip
    DEFAULT_CSS = """
    RecordList {
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

    @dataclass
    class Chosen(Message):
        """The cursor came to another record; the id is empty when no row is left."""

        record_list: RecordList[Any]
        record_id: str

        @property
        def control(self) -> RecordList[Any]:
            """The list."""
            return self.record_list

    @dataclass
    class Opened(Message):
        """Enter was pressed on a record."""

        record_list: RecordList[Any]
        record_id: str

        @property
        def control(self) -> RecordList[Any]:
            """The list."""
            return self.record_list

    def __init__(
        self,
        columns: Sequence[Column[Row]],
        *,
        identity: Callable[[Row], str],
        search: Callable[[Row], str],
        empty: str,
        records: Sequence[Row] = (),
        id: str | None = None,  # noqa: A002 (the toolkit's word)
    ) -> None:
        super().__init__(id=id)
        self.columns = tuple(columns)
        self.rows: Rows[Row] = Rows(identity, search)
        self.empty = empty
        self._told: str | None = None
        if records:
            self.rows.replace(records)
            self.set_reactive(RecordList.virtual_size, Size(0, len(records) + 1))

    # What the screens call

    def show(self, rows: Sequence[Row]) -> None:
        """Show these records; filter, order and the chosen record stay."""
        self._keeping(lambda: self.rows.replace(rows))

    def filter(self, text: str) -> None:
        """Keep only rows whose search text holds every word of ``text``."""
        self._keeping(lambda: self.rows.filter(text))

    def narrow(self, test: Callable[[Row], bool] | None) -> None:
        """Keep only rows that pass ``test``, beside the filter; None keeps all."""
        self._keeping(lambda: self.rows.narrow(test))

    def sort_by(self, key: str, *, reverse: bool = False) -> None:
        """Sort by the column of this key; an empty key is the order of ``show``."""
        column = next((column for column in self.columns if column.key == key), None)
        order = (column.order or (lambda row: column.text(row).lower())) if column else None
        self._keeping(lambda: self.rows.sort(order, key, reverse=reverse))

    def sort_next(self) -> str:
        """Sort by the column after the present one; after the last comes the first order. Returns its heading."""
        keys = ["", *(column.key for column in self.columns)]
        key = keys[(keys.index(self.rows.sorted_by) + 1) % len(keys)]
        self.sort_by(key)
        return next((column.heading for column in self.columns if column.key == key), "")

    def turn_round(self) -> None:
        """Sort the other way round."""
        self.sort_by(self.rows.sorted_by, reverse=not self.rows.reversed)

    def choose(self, record_id: str) -> bool:
        """Put the cursor on a record; False when it is not among the rows shown."""
        place = self.rows.place(record_id)
        if place is not None:
            self.cursor = place
            self._settle()
        return place is not None

    @property
    def chosen_id(self) -> str:
        """The id of the record under the cursor, or empty."""
        row = self.chosen_row
        return self.rows.identity(row) if row is not None else ""

    @property
    def chosen_row(self) -> Row | None:
        """The row under the cursor, or None."""
        shown = self.rows.shown
        return shown[self.cursor] if 0 <= self.cursor < len(shown) else None

    # How it works

    def _keeping(self, change: Callable[[], None]) -> None:
        chosen = self.chosen_id or self._told or ""
        change()
        self.virtual_size = Size(0, len(self.rows.shown) + 1)
        place = self.rows.place(chosen)
        self.cursor = place if place is not None else min(self.cursor, max(len(self.rows.shown) - 1, 0))
        self._settle()
        self.refresh()

    def _settle(self) -> None:
        """Bring the cursor into view and tell when it came to another record."""
        self._into_view()
        chosen = self.chosen_id
        if chosen != self._told:
            self._told = chosen
            self.post_message(self.Chosen(self, chosen))

    def validate_cursor(self, cursor: int) -> int:
        """Keep the cursor on a row."""
        return max(0, min(cursor, len(self.rows.shown) - 1))

    def watch_cursor(self) -> None:
        """Draw the new place."""
        self.refresh()

    @property
    def _page(self) -> int:
        return max(self.size.height - 1, 1)

    def _into_view(self) -> None:
        top = self.scroll_offset.y
        if self.cursor < top:
            self.scroll_to(y=self.cursor, animate=False, force=True)
        elif self.cursor >= top + self._page:
            self.scroll_to(y=self.cursor - self._page + 1, animate=False, force=True)

    def action_row(self, step: int) -> None:
        """Move by rows."""
        self.cursor += step
        self._settle()

    def action_page(self, step: int) -> None:
        """Move by pages."""
        self.action_row(step * self._page)

    def action_first(self) -> None:
        """To the first row."""
        self.action_row(-len(self.rows.shown))

    def action_last(self) -> None:
        """To the last row."""
        self.action_row(len(self.rows.shown))

    def action_open(self) -> None:
        """Tell that the chosen record is to be opened."""
        if self.chosen_id:
            self.post_message(self.Opened(self, self.chosen_id))

    def on_click(self, event: events.Click) -> None:
        """A click chooses; a second one on the same row opens."""
        row = self.scroll_offset.y + event.y - 1
        if event.y < 1 or row >= len(self.rows.shown):
            return
        if row == self.cursor:
            self.action_open()
        self.action_row(row - self.cursor)

    def on_resize(self) -> None:
        """Keep the chosen row in view in the new size."""
        self._into_view()

    # How it is drawn

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
        text = "Nothing fits the filter. Escape clears it." if self.rows.all else self.empty
        lines = wrapped(text, width - 4)
        text = lines[y - 1] if 1 <= y <= len(lines) else ""
        return Strip([Segment("  " + text, self.rich_style + self._style("quiet"))]).adjust_cell_length(
            width, self.rich_style
        )
