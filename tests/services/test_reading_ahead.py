"""What a start reads of a long log is what it shows, and it is the same as what is shown when all is read."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings

from gearlog.devtools import decade
from gearlog.devtools.decade import Amounts
from gearlog.domain.inspection import Inspection
from gearlog.domain.item import Item
from gearlog.domain.settings import Settings
from gearlog.domain.splice import Splice
from gearlog.services.book import Book, open_book
from gearlog.services.clock import clock
from gearlog.storage import Store, codec, utc_now
from gearlog.storage.lines import RowText
from gearlog.storage.opening import Opened
from gearlog.storage.store import Session
from tests.services.lives import ACTS, Act, Life, acts

DAY = date(2026, 11, 1)
AMOUNTS = Amounts(items=20, splices=30, inspections=60)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("decade") / "log"
    decade.build(place, DAY, AMOUNTS)
    return place


@pytest.fixture
def book(folder: Path) -> Iterator[Book]:
    with open_book(folder, today=lambda: DAY) as opened:
        yield opened


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The kinds of the records that are read, one after another."""
    found: list[str] = []
    real = codec.Shelf._place

    def place(shelf: codec.Shelf[Item], records: dict[str, Item], key: str, row: RowText) -> None:
        found.append(shelf.kind.__name__)
        real(shelf, records, key, row)

    monkeypatch.setattr(codec.Shelf, "_place", place)
    return found


def test_today_reads_no_more_of_the_diary_than_it_shows(book: Book, read: list[str]) -> None:
    book.read_ahead()
    assert read.count("Splice") == 5
    assert (read.count("Item"), read.count("Inspection")) == (AMOUNTS.items, AMOUNTS.inspections)
    told = len(read)
    shown = book.lists.today()
    assert len(read) == told, "what was read ahead is not read again"
    book.read_rest()
    assert read.count("Splice") == 5 + AMOUNTS.splices
    assert book.lists.today().last_splices == shown.last_splices == book.diary.rows()[:5]


def test_what_is_read_beside_a_change_is_not_taken_for_the_log(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    """The change comes while the records are read apart, as another thread would make it."""
    item = book.gear.rows()[0].item
    made = book.diary.newest(1)[0].splice
    real = codec.Shelf.records

    def records(shelf: codec.Shelf[Splice]) -> tuple[Splice, ...]:
        if shelf.kind is Splice and not book._store.has_read(Splice):
            monkeypatch.setattr(codec.Shelf, "records", real)
            book.gear.record_event(item.id, book.gear.blank_event() | {"kind": "washed"})
            book.diary.correct(made.id, book.diary.form_of(made.id) | {"minutes": "7"}, "misread the clock")
        return real(shelf)

    monkeypatch.setattr(codec.Shelf, "records", records)
    book.read_rest()
    assert book.diary.newest(1)[0].splice.minutes == 7
    assert {row.splice.minutes for row in book.diary.rows() if row.splice.corrects == made.id} == {7}
    assert len(book._store.records(Splice)) == AMOUNTS.splices + 1
    assert len(book._store.records(Inspection)) == AMOUNTS.inspections


def unread(book: Book) -> Book:
    """The same log as it is after opening: nothing of it is read."""
    tables = {name: dict(rows) for name, rows in book._store._ledger._log.tables.items()}
    store = Store(Session(None, None, None, utc_now), Opened(tables), Settings(), ())
    return Book(store, clock(book.today, None))


@settings(max_examples=40, deadline=None)
@given(acts(*ACTS))
def test_the_last_splices_are_those_of_the_whole_diary_after_any_life(history: list[Act]) -> None:
    life = Life()
    for act in history:
        life.do(act)
    for most in (1, 5):
        fresh = unread(life.book)
        assert fresh.diary.newest(most) == life.book.diary.rows()[:most]
        assert fresh.gear.rows() == life.book.gear.rows()
