"""What an audit of 2,000 items costs as a PDF, against the same text written as CSV, and what memory it takes.

Run: pytest -s tests/bench/bench_audit.py
"""

from __future__ import annotations

import sys
import tracemalloc
from datetime import date
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from gearlog.domain.audited import Audit
from gearlog.reports.audit_files import csv_of, written
from gearlog.services.book import Book, memory_book
from gearlog.services.importing_choices import Choices
from tests.bench.floors import ratio, side_by_side_ms

ITEMS, LINES = 2_000, 20_000
TODAY = date(2026, 11, 1)
MOST_TIMES = 10
"""The PDF may take so many times the CSV."""
MOST_MB = 200
ROUNDS = 7
MEGA = 1_000_000


def listed(count: int) -> bytes:
    """A list of gear as a crew of climbers has it."""
    rows = ["No,Name,Kind,Maker,Model,Serial,Standard,Strength (kN),Length (m),Diameter (mm),Construction,Made,Bought,"
            "First used,Last inspection,By,Next inspection,Who,Where,Remarks"]  # fmt: skip
    rows += [
        f"line-{n},Long climbing line {n},climbing line,Maker {n % 9},line model {n % 40},A-2024-{n},EN 1891 A,"
        f"{22 + n % 9},{30 + n % 20},{11 + n % 3},kernmantle,2024-01,2024-0{1 + n % 9}-1{n % 9},2024-11-0{1 + n % 9},"
        f"2026-0{1 + n % 9}-11,inspector {n % 3},2027-0{1 + n % 9}-11,climber {n % 12},van {n % 4},blue marks at end A"
        for n in range(count)
    ]
    return "\n".join(rows).encode()


def filled(count: int) -> Book:
    """A log with so many items, each examined twice."""
    book = memory_book(today=lambda: TODAY)
    assert book.importing.take_in(listed(count), "list.csv", Choices()).imported == count
    return book


def all_text(audit: Audit) -> int:
    """Every table of the audit as CSV."""
    return sum(len(csv_of(audit, table)) for table in ("register", "examinations", "splices", "attention", "gaps"))


def made(book: Book) -> Audit:
    """The audit of everything."""
    return book.auditing.audit(book.auditing.wanted(book.auditing.blank_form()))


def test_a_pdf_takes_at_most_ten_times_as_long_as_the_same_text_as_csv() -> None:
    book = filled(ITEMS)
    audit = made(book)
    written(audit, "pdf")  # fonts are read once
    pdf, csv = side_by_side_ms(lambda: written(audit, "pdf"), lambda: all_text(audit), ROUNDS)
    print()
    print(ratio(f"PDF of {ITEMS} items", pdf, "the same text as CSV", csv))
    whole, plain = side_by_side_ms(lambda: written(made(book), "pdf"), lambda: all_text(made(book)), ROUNDS)
    print(ratio("the same from the records on", whole, "CSV from the records on", plain))
    tracemalloc.start()
    written(audit, "pdf")
    peak = tracemalloc.get_traced_memory()[1] / MEGA
    tracemalloc.stop()
    print(f"memory while it is written: {peak:.0f} MB")
    assert pdf <= MOST_TIMES * csv
    assert peak <= MOST_MB


def test_importing_takes_time_by_the_line_and_no_more() -> None:
    few, many = listed(LINES // 10), listed(LINES)
    book = memory_book(today=lambda: TODAY)
    small, large = side_by_side_ms(
        lambda: book.importing.trial(few, "list.csv"), lambda: book.importing.trial(many, "list.csv"), 1
    )
    print()
    print(f"{LINES} lines tried in {large:.0f} ms, {large / LINES * 1000:.0f} microseconds a line")
    assert large <= 2 * 10 * small
