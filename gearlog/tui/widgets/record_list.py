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
from typing import Any, ClassVar, TypeVar

from textual import events
from textual.binding import BindingType
from textual.geometry import Size
from textual.message import Message

from gearlog.tui.keys import bindings
from gearlog.tui.widgets.columns import Column
from gearlog.tui.widgets.drawn_list import DrawnList
from gearlog.tui.widgets.rows import Rows
from gearlog.units.natural import natural

Row = TypeVar("Row")


class RecordList(DrawnList[Row], can_focus=True):
    """The list; its first line is the heading, which stays while the rows scroll."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("list")

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
        super().__init__(columns, Rows(identity, search), empty, id=id)
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
        order = (column.order or (lambda row: natural(column.text(row)))) if column else None
        self._keeping(lambda: self.rows.sort(order, key, reverse=reverse))

    def sort_next(self) -> str:
        """Sort by the column after the present one; after the last comes the first order. Returns its heading."""
        keys = ["", *dict.fromkeys(column.key for column in self.columns)]
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
