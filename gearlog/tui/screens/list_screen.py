"""A main screen with a list and the chosen record beside it: two columns where there is room, else one of both.

A subclass gives columns and words; filter, kind, state, order and the chosen record are kept between two starts.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar, Generic, TypeVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content

from gearlog.tui.dialogs.choose import Choice, ChooseDialog
from gearlog.tui.screens.base import MainScreen, Wish
from gearlog.tui.widgets.columns import Column
from gearlog.tui.widgets.filter_line import FilterLine
from gearlog.tui.widgets.paper import Paper
from gearlog.tui.widgets.record_list import RecordList

Row = TypeVar("Row")

WIDE = 100  # columns from which list and record stand side by side
MARGINS, LEAST = 5, 20  # cells beside the record's words; the least to set them in
ALL = ("", "all")


class ListScreen(MainScreen, Generic[Row]):
    """The list with its record.

    Attributes:
        CARD_KEYS: name of the row of keys that holds while the record is read.
        EMPTY: what an empty log says to do first.
        ORDER: how the rows come when no column sorts them.
        KIND: what ``k`` chooses, in a word; ``STATE`` what ``w`` chooses.
        KINDS: the kinds to choose from; ``STATES`` the states.
    """

    CARD_KEYS: ClassVar[str] = ""
    EMPTY: ClassVar[str] = ""
    ORDER: ClassVar[str] = "as entered"
    KIND: ClassVar[str] = "kind"
    STATE: ClassVar[str] = "state"
    STATES: ClassVar[tuple[Choice, ...]] = ()
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide")]  # noqa: RUF012 (the toolkit's shape)
    DEFAULT_CSS = """
    ListScreen #sides { height: 1fr; }
    ListScreen RecordList { width: 1fr; }
    ListScreen Paper { width: 1fr; }
    ListScreen.-wide RecordList { width: 11fr; }
    ListScreen.-wide Paper { width: 9fr; border-left: solid $line; }
    ListScreen.-narrow Paper { display: none; }
    ListScreen.-narrow.-reading Paper { display: block; padding: 1 1 0 2; }
    ListScreen.-narrow.-reading RecordList { display: none; }
    ListScreen.-narrow.-reading FilterLine { display: none; }
    """

    # What a subclass gives

    def columns(self) -> Sequence[Column[Row]]:
        """The list's columns."""
        raise NotImplementedError

    def rows(self) -> Sequence[Row]:
        """All rows, from the book."""
        raise NotImplementedError

    def identity(self, row: Row) -> str:
        """A row's id."""
        raise NotImplementedError

    def search(self, row: Row) -> str:
        """What the filter finds, in small letters."""
        raise NotImplementedError

    def kinds(self) -> Sequence[Choice]:
        """The kinds to choose from."""
        return ()

    def is_kind(self, row: Row, kind: str) -> bool:
        """Whether a row is of a kind."""
        raise NotImplementedError

    def is_state(self, row: Row, state: str) -> bool:
        """Whether a row stands so."""
        raise NotImplementedError

    def describe(self, record_id: str, width: int) -> Content:
        """The chosen record in words for so many cells."""
        raise NotImplementedError

    # The parts

    def parts(self) -> ComposeResult:
        """Filter over list, record beside it."""
        yield FilterLine(self.gearlog.memory.filter(self.PLACE))
        with Horizontal(id="sides"):
            yield RecordList(self.columns(), identity=self.identity, search=self.search, empty=self.EMPTY)
            yield Paper()

    @property
    def list(self) -> RecordList[Row]:
        """The list."""
        return self.query_one(RecordList)

    @property
    def paper(self) -> Paper:
        """The record's page."""
        return self.query_one(Paper)

    @property
    def filter_line(self) -> FilterLine:
        """The filter."""
        return self.query_one(FilterLine)

    @property
    def chosen_id(self) -> str:
        """The record that keys work on, or empty."""
        return self.list.chosen_id

    @property
    def reading(self) -> bool:
        """Whether the record has the focus, not the list."""
        return self.has_class("-reading")

    @property
    def keys_place(self) -> str:
        """The record's keys while it is read."""
        return self.CARD_KEYS if self.reading else self.KEYS

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

    # Reading a record

    def read(self) -> None:
        """Put the focus on the record."""
        if self.chosen_id:
            self.add_class("-reading")
            self.call_after_refresh(self._focus_paper)

    def _focus_paper(self) -> None:
        self._describe(top=True)
        self.paper.focus()
        self.renew_keys()

    def leave_record(self) -> None:
        """Put the focus back on the list."""
        self.remove_class("-reading")
        self.list.focus()
        self.renew_keys()

    @on(RecordList.Opened)
    def _opened(self) -> None:
        self.read()

    @on(RecordList.Chosen)
    def _chosen(self, event: RecordList.Chosen) -> None:
        if event.record_id:
            self.gearlog.memory.choose(self.PLACE, event.record_id)
        self._describe(top=True)

    def on_resize(self) -> None:
        """Words are set anew for the new width."""
        self.call_after_refresh(self._describe, top=False)

    def _describe(self, *, top: bool) -> None:
        if self.paper.display:
            whole = self.size.width if self.has_class("-narrow") else self.paper.outer_size.width
            width = max(whole - MARGINS, LEAST)
            words = self.describe(self.chosen_id, width) if self.chosen_id else Content("")
            self.paper.show(words, top=top)

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
