from __future__ import annotations

from datetime import date

from gearlog.domain.item import Item
from gearlog.services.book import Book


def add(book: Book, name: str, *history: dict[str, str], **fields: str) -> Item:
    item = book.gear.add({"name": name, "category": "connector", **fields})
    for entry in history:
        book.gear.record_event(item.id, entry)
    return item


def examined(on: str, **more: str) -> dict[str, str]:
    return {"kind": "examined", "happened_on": on, "by": "k.l.", **more}


def test_today_tells_what_asks_for_attention_the_most_urgent_first(book: Book) -> None:
    add(book, "fine", examined("2025-05-01"))
    add(book, "soon", examined("2024-12-20"))
    add(book, "late", examined("2024-10-01"))
    add(book, "later", examined("2024-11-01"))
    add(book, "new")
    add(book, "held", examined("2024-10-01"), {"kind": "quarantined", "happened_on": "2025-05-01"})
    add(book, "gone", {"kind": "lost", "happened_on": "2025-05-01"})
    add(book, "old", examined("2025-05-01"), made_on="2015-07", life_years_from_made="10")
    add(book, "dead", examined("2025-05-01"), made_on="2015-05", life_years_from_made="10")
    today = book.lists.today()
    assert [row.tag for row in today.overdue] == ["new", "late", "dead", "later"]
    assert [row.tag for row in today.due_soon] == ["soon", "old"]
    assert [row.tag for row in today.quarantined] == ["held"]
    assert [row.tag for row in today.near_end_of_life] == ["dead", "old"]
    assert "never examined: 1 item" in today.gaps
    assert "no limit of life: 5 items" in today.gaps


def test_an_empty_log_asks_for_nothing(book: Book) -> None:
    today = book.lists.today()
    assert (today.overdue, today.last_splices, today.gaps) == ((), (), ())
    assert book.lists.list_rows() == ()


def test_the_plain_list_tells_states_in_words(book: Book) -> None:
    add(book, "b", examined("2024-10-01"))
    add(book, "A")
    rows = book.lists.list_rows()
    assert [(row.tag, row.due, row.due_on) for row in rows] == [
        ("a", "OVERDUE, never examined", None),
        ("b", "OVERDUE", date(2025, 4, 1)),
    ]
