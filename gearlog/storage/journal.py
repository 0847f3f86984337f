"""TinyDB over the journal: a storage that keeps the records in memory and writes only what changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, MutableMapping
from contextlib import contextmanager
from datetime import datetime
from typing import Any

from tinydb import TinyDB
from tinydb.storages import Storage
from tinydb.table import Table

from gearlog.storage import lines
from gearlog.storage.lines import NO_ROW, Change, Line, Row, RowText, Tables, alike, plain
from gearlog.storage.opening import apply


class JournalStorage(Storage):
    """Records in memory; a save is one line, handed to ``append`` before the memory changes.

    Attributes:
        tables: the records.
        n: number of the last save.
        lines: the saves since the last fold.
    """

    def __init__(self, append: Callable[[bytes], None], now: Callable[[], datetime]) -> None:
        self._append = append
        self._now = now
        self.tables: Tables = {}
        self.n = 0
        self.lines: list[Line] = []
        self._gathered: dict[str, dict[str, RowText]] | None = None

    def read(self) -> dict[str, dict[str, Any]] | None:
        """All tables, as TinyDB asks for them; the rows are read from their text one by one."""
        return {
            name: dict(PlainRows(self.rows(name))) for name in dict.fromkeys((*self.tables, *(self._gathered or {})))
        }

    def write(self, data: Mapping[str, Mapping[str, Row]]) -> None:
        """Save what differs between ``data`` and the records; TinyDB uses it to drop tables."""
        with self.one_save("change"):
            for name in {*self.tables, *data}:
                old, new = PlainRows(self.tables.get(name, {})), data.get(name, {})
                changed = {key: new.get(key) for key in {*old, *new} if old.get(key) != new.get(key)}
                self.change(name, _cleaned(changed))

    def rows(self, name: str) -> dict[str, RowText]:
        """The rows of one table, with what is gathered but not saved yet."""
        rows = self.tables.get(name, {})
        waiting = (self._gathered or {}).get(name)
        if not waiting:
            return rows
        merged = {**rows, **waiting}
        return {key: row for key, row in merged.items() if row != NO_ROW}

    def change(self, name: str, changed: Mapping[str, RowText]) -> None:
        """Set clean rows of a table, ``NO_ROW`` to remove; saved at once unless inside ``one_save``."""
        if self._gathered is None:
            with self.one_save("change"):
                self.change(name, changed)
        else:
            self._gathered.setdefault(name, {}).update(changed)

    @contextmanager
    def one_save(self, label: str) -> Iterator[None]:
        """Gather every change made inside into one line; none is made when an error leaves the block."""
        if self._gathered is not None:  # inside another: one line for all
            yield
            return
        self._gathered = {}
        try:
            yield
            changes = self._changes()
        finally:
            self._gathered = None
        if changes:
            self.commit(changes, label)

    def _changes(self) -> tuple[Change, ...]:
        found = []
        for name, rows in (self._gathered or {}).items():
            now = self.tables.get(name, {})
            found += [
                Change(name, key, row, now.get(key, NO_ROW)) for key, row in rows.items() if row != NO_ROW or key in now
            ]
        return tuple(found)

    def commit(
        self, changes: tuple[Change, ...], label: str, *, undoes: int | None = None, redoes: int | None = None
    ) -> Line:
        """Write one line, then change the memory; raises OSError, StorageError with nothing changed."""
        at = self._now().isoformat()
        line = Line(n=self.n + 1, at=at, label=label, changes=changes, undoes=undoes, redoes=redoes)
        self._append(lines.encode(line))
        self.follow(line)
        return line

    def follow(self, line: Line) -> None:
        """Take over a line that is on the disk."""
        apply(line, self.tables)
        self.n = line.n
        self.lines.append(line)


class PlainRows(Mapping[str, Row]):
    """Rows as TinyDB reads them, each made from its text when it is looked at."""

    def __init__(self, rows: Mapping[str, RowText]) -> None:
        self._rows = rows

    def __getitem__(self, key: str) -> Row:
        return plain(self._rows[key])

    def __iter__(self) -> Iterator[str]:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)


class RowsView(MutableMapping[int, Any]):
    """The rows as TinyDB's updaters want them; each is made anew from its text, so that none changes unsaved."""

    def __init__(self, rows: Mapping[str, RowText]) -> None:
        self._rows = rows
        self._touched: dict[int, Row] = {}
        self._gone: set[int] = set()

    def __getitem__(self, key: int) -> Row:
        if key in self._gone:
            raise KeyError(key)
        if key not in self._touched:
            self._touched[key] = plain(self._rows[str(key)])
        return self._touched[key]

    def __setitem__(self, key: int, row: Row) -> None:
        self._touched[key] = row
        self._gone.discard(key)

    def __delitem__(self, key: int) -> None:
        if key not in self:
            raise KeyError(key)
        self._touched.pop(key, None)
        self._gone.add(key)

    def __contains__(self, key: object) -> bool:
        return key not in self._gone and (key in self._touched or str(key) in self._rows)

    def __iter__(self) -> Iterator[int]:
        yield from (key for key in map(int, self._rows) if key not in self._gone)
        yield from (key for key in self._touched if str(key) not in self._rows)

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def changes(self) -> dict[str, Row | None]:
        """What differs from the rows underneath."""
        changed: dict[str, Row | None] = {
            str(key): row for key, row in self._touched.items() if self._before(key) != row
        }
        changed.update({str(key): None for key in self._gone if str(key) in self._rows})
        return changed

    def _before(self, key: int) -> Row | None:
        text = self._rows.get(str(key))
        return None if text is None else plain(text)


class JournalTable(Table):
    """A TinyDB table whose changes become one line instead of a whole file."""

    _storage: JournalStorage

    def __init__(self, storage: Storage, name: str, cache_size: int = 0, *, persist_empty: bool = False) -> None:
        """As TinyDB's, without the query cache, whose rows would be shared and grow old."""
        super().__init__(storage, name, cache_size=min(cache_size, 0), persist_empty=persist_empty)

    def put(self, rows: Iterable[tuple[str | None, RowText]]) -> None:
        """Set whole clean rows by their number, or under a new number where it is None."""
        now = self._storage.rows(self.name)
        changed: dict[str, RowText] = {}
        for key, row in rows:
            number = str(self._get_next_id()) if key is None else key  # type: ignore[no-untyped-call]
            if not alike(now.get(number, NO_ROW), row):
                changed[number] = row
        self._storage.change(self.name, changed)

    def _read_table(self) -> Mapping[str, Row]:  # type: ignore[override]  # TinyDB only reads in it
        return PlainRows(self._storage.rows(self.name))

    def _update_table(self, updater: Callable[[Any], None]) -> None:
        view = RowsView(self._storage.rows(self.name))
        updater(view)
        self._storage.change(self.name, _cleaned(view.changes()))


def _cleaned(changed: Mapping[str, Row | None]) -> dict[str, RowText]:
    return {key: NO_ROW if row is None else lines.clean(row) for key, row in changed.items()}


class JournalDB(TinyDB):
    """A TinyDB whose tables write to the journal."""

    table_class = JournalTable  # type: ignore[assignment]  # narrower on purpose: only our storage fits
