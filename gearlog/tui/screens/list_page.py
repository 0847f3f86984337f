"""A page with a list and the chosen record beside it: two columns where there is room, else one of both."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from typing import ClassVar, Generic, TypeVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content

from gearlog.tui.dialogs.choose import Choice
from gearlog.tui.screens.base import MainScreen
from gearlog.tui.widgets.columns import Column
from gearlog.tui.widgets.filter_line import FilterLine
from gearlog.tui.widgets.paper import Paper
from gearlog.tui.widgets.record_list import RecordList

Row = TypeVar("Row")

WIDE = 100  # columns from which list and record stand side by side
MARGINS, LEAST = 5, 20  # cells beside the record's words; the least to set them in


class ListPage(MainScreen, Generic[Row]):
    """The list with its record; a screen says what stands in both.

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
    ListPage #sides { height: 1fr; }
    ListPage RecordList { width: 1fr; }
    ListPage Paper { width: 1fr; }
    ListPage.-wide RecordList { width: 11fr; }
    ListPage.-wide Paper { width: 9fr; border-left: solid $line; }
    ListPage.-narrow Paper { display: none; }
    ListPage.-narrow.-reading Paper { display: block; padding: 1 1 0 2; }
    ListPage.-narrow.-reading RecordList { display: none; }
    ListPage.-narrow.-reading FilterLine { display: none; }
    """

    # What a subclass gives

    @abstractmethod
    def columns(self) -> Sequence[Column[Row]]:
        """The list's columns."""

    @abstractmethod
    def rows(self) -> Sequence[Row]:
        """All rows, from the book."""

    @abstractmethod
    def identity(self, row: Row) -> str:
        """A row's id."""

    @abstractmethod
    def search(self, row: Row) -> str:
        """What the filter finds, in small letters."""

    def kinds(self) -> Sequence[Choice]:
        """The kinds to choose from."""
        return ()

    @abstractmethod
    def is_kind(self, row: Row, kind: str) -> bool:
        """Whether a row is of a kind."""

    @abstractmethod
    def is_state(self, row: Row, state: str) -> bool:
        """Whether a row stands so."""

    @abstractmethod
    def describe(self, record_id: str, width: int) -> Content:
        """The chosen record in words for so many cells."""

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

    @on(Paper.Widened)
    def _widened(self) -> None:
        self._describe(top=False)

    def _describe(self, *, top: bool) -> None:
        if self.paper.display:
            whole = self.size.width if self.has_class("-narrow") else self.paper.outer_size.width
            width = max(whole - MARGINS, LEAST)
            words = self.describe(self.chosen_id, width) if self.chosen_id else Content("")
            self.paper.show(words, top=top)
