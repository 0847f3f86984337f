from __future__ import annotations

import csv
import io
from datetime import date

from gearlog.domain.item import Item
from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import Status
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
    assert (book.lists.list_rows(), book.lists.audit_rows()) == ((), ())


def test_the_plain_list_tells_states_in_words(book: Book) -> None:
    add(book, "b", examined("2024-10-01"))
    add(book, "A")
    rows = book.lists.list_rows()
    assert [(row.tag, row.due, row.due_on) for row in rows] == [
        ("a", "OVERDUE, never examined", None),
        ("b", "OVERDUE", date(2025, 4, 1)),
    ]


def test_the_list_to_hand_over_hides_nothing(book: Book) -> None:
    for kind in ("retired", "lost", "quarantined", "destroyed"):
        add(book, kind, {"kind": kind, "happened_on": "2025-05-01"})
    column = book.lists.audit_headings().index("status")
    assert {row[column] for row in book.lists.audit_rows()} == {
        status.value for status in Status if status is not Status.IN_SERVICE
    }


def test_a_line_of_the_list_to_hand_over(book: Book, rope: Item, plan: Plan) -> None:
    book.diary.record(book.diary.form_from_plan(plan), plan)
    book.gear.record_event(rope.id, examined("2025-03-31", next_due_on="2025-09"))
    book.gear.record_event(rope.id, {"kind": "cut", "happened_on": "2025-05-20", "cut_end": "B", "length": "5 ft"})
    (row,) = csv.DictReader(io.StringIO(book.lists.audit_csv().decode("utf-8")))
    told = {
        "tag": "long-climbing-line",
        "breaking strength as printed": "24 kN",
        "breaking strength (kN)": "24.00",
        "safe working load (kN)": "",
        "bought on": "2025-01",
        "status": "in service",
        "last examined on": "2025-03-31",
        "examined by": "k.l.",
        "next due on": "2025-09-01",
        "due": "in date",
        "end of life on": "",
        "construction": "hollow-braid, 12 strands, loose",
        "diameter (mm)": "12.00",
        "length bought (m)": "45.00",
        "length now (m)": "43.48",  # 45 - 5 x 0.3048
        "end A": "spliced 2025-06-01: buried eye in hollow braid",
        "end B": "bare",
        "gaps": "no model; no serial; no standards; no date of manufacture; no first use; no limit of life",
    }
    assert {heading: row[heading] for heading in told} == told


def test_what_was_typed_cannot_become_a_formula_in_the_list(book: Book) -> None:
    add(book, "=1+1", maker="@x", serial="-5")
    (row,) = csv.DictReader(io.StringIO(book.lists.audit_csv().decode("utf-8")))
    assert not row["name"].startswith("=")
    assert not row["maker"].startswith("@")
    assert row["serial or batch"] == "-5"
