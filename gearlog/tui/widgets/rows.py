"""The rows behind a record list: filtered as fast as one types, sorted, found by id. Knows no widget."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Generic, TypeVar

Row = TypeVar("Row")


class Rows(Generic[Row]):
    """All records, and those shown now.

    Attributes:
        all: every record, in the order given.
        shown: the records that pass filter and test, in the order chosen.
        sorted_by: key of the column sorted by, or empty.
        reversed: whether sorted the other way round.
    """

    def __init__(self, identity: Callable[[Row], str], search: Callable[[Row], str]) -> None:
        self.identity = identity
        self._search = search
        self.all: Sequence[Row] = ()
        self.shown: Sequence[Row] = ()
        self.sorted_by = ""
        self.reversed = False
        self._order: Callable[[Row], Any] | None = None
        self._test: Callable[[Row], bool] | None = None
        self._text = ""
        self._ordered: Sequence[Row] = ()

    def replace(self, rows: Sequence[Row]) -> None:
        """New records."""
        self.all = rows
        self._arrange()

    def filter(self, text: str) -> None:
        """Keep rows whose search text holds every word of ``text``, in any order and case."""
        grown = text.startswith(self._text) and bool(self._text)
        self._text = text
        self._select(self.shown if grown else self._passing())

    def narrow(self, test: Callable[[Row], bool] | None) -> None:
        """Keep rows that pass ``test``; None keeps all."""
        self._test = test
        self._select(self._passing())

    def sort(self, order: Callable[[Row], Any] | None, key: str, *, reverse: bool = False) -> None:
        """Sort by ``order``; None is the order given."""
        self._order, self.sorted_by, self.reversed = order, key, reverse
        self._arrange()

    def place(self, record_id: str) -> int | None:
        """Where a record is among those shown, or None."""
        identity = self.identity
        return next((place for place, row in enumerate(self.shown) if identity(row) == record_id), None)

    def _arrange(self) -> None:
        rows = self.all
        if self._order is not None:
            rows = sorted(rows, key=self._order, reverse=self.reversed)
        elif self.reversed:
            rows = rows[::-1]
        self._ordered = rows
        self._select(self._passing())

    def _passing(self) -> Sequence[Row]:
        return [row for row in self._ordered if self._test(row)] if self._test else self._ordered

    def _select(self, rows: Sequence[Row]) -> None:
        search = self._search
        for word in self._text.lower().split():
            rows = [row for row in rows if word in search(row)]
        self.shown = rows
