"""A main screen over a list page: filter as one types, kind, state and order; all of it kept between two starts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from textual import on

from gearlog.tui.dialogs.choose import Choice, ChooseDialog
from gearlog.tui.screens.base import Wish
from gearlog.tui.screens.list_page import ListPage
from gearlog.tui.widgets.filter_line import FilterLine

Row = TypeVar("Row")

ALL = ("", "all")


class ListScreen(ListPage[Row]):
    """The list page with all that narrows and orders it; the screen's keys end here."""

    def on_mount(self) -> None:
        """Come back to filter, order and record."""
        memory = self.gearlog.memory
        self.list.filter(memory.filter(self.PLACE))
        self._narrow()
        self._order(memory.filter(f"{self.PLACE}.sort"))
        self.renew_if_changed()
        self.list.choose(memory.chosen(self.PLACE))
        self.list.focus()

    def renew(self) -> None:
        """Rows and record anew; the cursor stays on its record."""
        self.list.show(self.rows())
        self._tell()
        self._describe(top=False)

    def arrive(self, wish: Wish) -> None:
        """Show the record one came for, whatever the filter was."""
        if not wish.chosen:
            return
        if not self.list.choose(wish.chosen):
            self._clear()
            self.list.choose(wish.chosen)
        self.read()

    # Narrowing the list

    @on(FilterLine.Typed)
    def _typed(self, event: FilterLine.Typed) -> None:
        self.list.filter(event.text)
        self.gearlog.memory.keep_filter(self.PLACE, event.text)
        self._tell()

    @on(FilterLine.Left)
    def _left(self) -> None:
        self.list.focus()

    def action_filter(self) -> None:
        """Type into the filter."""
        self.remove_class("-reading")
        self.filter_line.type()

    def action_kind(self) -> None:
        """Choose the only kind to be shown."""
        self._choose(f"Show which {self.KIND}?", self.kinds(), "kind")

    def action_state(self) -> None:
        """Choose the only state to be shown."""
        self._choose(f"Show which {self.STATE}?", self.STATES, "state")

    def _choose(self, title: str, choices: Sequence[Choice], what: str) -> None:
        name = f"{self.PLACE}.{what}"

        def take(value: str | None) -> None:
            if value is not None:
                self.gearlog.memory.keep_filter(name, value)
                self._narrow()
                self._tell()

        self.app.push_screen(ChooseDialog(title, (ALL, *choices), self.gearlog.memory.filter(name)), take)

    def _test(self) -> Callable[[Row], bool] | None:
        kind, state = (self.gearlog.memory.filter(f"{self.PLACE}.{what}") for what in ("kind", "state"))
        if not kind and not state:
            return None
        return lambda row: (not kind or self.is_kind(row, kind)) and (not state or self.is_state(row, state))

    def _narrow(self) -> None:
        self.list.narrow(self._test())

    def _clear(self) -> None:
        for what in (".kind", ".state", ""):
            self.gearlog.memory.keep_filter(self.PLACE + what, "")
        self.filter_line.clear()
        self.list.filter("")
        self._narrow()
        self._tell()

    def _tell(self) -> None:
        memory = self.gearlog.memory
        narrowed = [
            dict(choices).get(memory.filter(f"{self.PLACE}.{what}"), "")
            for what, choices in (("kind", self.kinds()), ("state", self.STATES))
        ]
        shown, whole = len(self.list.rows.shown), len(self.list.rows.all)
        count = f"{shown:,}" if shown == whole else f"{shown:,} of {whole:,}"
        self.filter_line.tell(", ".join([*filter(None, narrowed), count]))

    # Order

    def action_sort(self) -> None:
        """Sort by the next column."""
        heading = self.list.sort_next()
        self._keep_order()
        self.gearlog.tell(f"Sorted by {heading}." if heading else f"Sorted {self.ORDER}.")

    def action_reverse(self) -> None:
        """Sort the other way round."""
        self.list.turn_round()
        self._keep_order()

    def _keep_order(self) -> None:
        rows = self.list.rows
        self.gearlog.memory.keep_filter(f"{self.PLACE}.sort", f"{rows.sorted_by}{' -' if rows.reversed else ''}")

    def _order(self, kept: str) -> None:
        key, _, turned = kept.partition(" ")
        self.list.sort_by(key, reverse=bool(turned))

    def action_back(self) -> None:
        """From the record to the list; from a filter to the whole list."""
        if self.reading:
            self.leave_record()
        elif self.filter_line.typing and not self.filter_line.text:
            self.list.focus()
        elif self.filter_line.text or self._test():
            self._clear()
            self.list.focus()
