"""The demo log's audit in every format, opened by programs that are not ours: items, dates and counts are the log's."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import re
from collections.abc import Iterator
from datetime import date, datetime
from html.parser import HTMLParser
from typing import Any

import html5lib
import openpyxl
import pypdf
import pypdfium2
import pytest
import zxingcpp

from gearlog.domain.audited import Audit
from gearlog.reports.audit_files import written
from gearlog.reports.audit_tables import TABLES
from gearlog.reports.audit_words import label_words
from gearlog.reports.labels import Label, places, sheet_of
from gearlog.reports.paper.leaf import PAPERS, Words
from gearlog.services.book import Book, open_sample

TODAY = date(2026, 11, 1)


@pytest.fixture(scope="module")
def book() -> Iterator[Book]:
    with open_sample(today=lambda: TODAY) as opened:
        yield opened


@pytest.fixture(scope="module")
def audit(book: Book) -> Audit:
    return book.auditing.audit(book.auditing.wanted(book.auditing.blank_form()))


@pytest.fixture(scope="module")
def tags(book: Book) -> list[str]:
    return [row.tag for row in book.gear.rows()]


def rows_of(book: Book, audit: Audit, table: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(book.auditing.table(audit, table).decode("utf-8"), newline="")))


def test_the_csv_register_holds_every_item_as_the_log_tells_it(book: Book, audit: Audit, tags: list[str]) -> None:
    rows = {row["tag"]: row for row in rows_of(book, audit, "register")}
    assert sorted(rows) == sorted(tags)
    for row in book.gear.rows():
        told = rows[row.tag]
        assert told["made on"] == (row.item.made_on.text if row.item.made_on else "")
        assert told["bought on"] == (row.item.bought_on.text if row.item.bought_on else "")
        assert told["status"] == row.status.value.replace("-", " ")
        assert told["next due on"] in {str(row.due.due_on or ""), "before use"}


def test_the_csv_of_examinations_and_splices_holds_every_one_of_them(book: Book, audit: Audit) -> None:
    shelf = book.gear._shelf
    made = sum(
        1
        for row in book.gear.rows()
        for event in shelf.events_of(row.item.id)
        if event.kind in {"examined", "checked"} and not event.struck_because and event.item_id == row.item.id
    )
    assert len(rows_of(book, audit, "examinations")) == made
    assert len(rows_of(book, audit, "splices")) >= len(book.diary.rows())
    assert all(row["made on"] and row["made by"] for row in rows_of(book, audit, "splices"))
    about = {row["what"]: row["value"] for row in rows_of(book, audit, "about")}
    assert about["items listed"] == str(len(book.gear.rows()))
    today = book.lists.today()
    assert about["overdue"] == str(len(today.overdue))
    assert about["in quarantine"] == str(len(today.quarantined))


def test_a_byte_order_mark_is_there_when_it_is_asked_for(book: Book, audit: Audit) -> None:
    marked = book.auditing.table(audit, bom=True)
    assert marked.startswith(b"\xef\xbb\xbf")
    assert marked[3:] == book.auditing.table(audit)


def sheets(data: bytes) -> dict[str, list[tuple[Any, ...]]]:
    workbook = openpyxl.load_workbook(io.BytesIO(data))
    return {sheet.title: list(sheet.iter_rows(values_only=True)) for sheet in workbook.worksheets}


def test_the_workbook_holds_the_same_tables_with_dates_as_dates_and_numbers_as_numbers(
    book: Book, audit: Audit
) -> None:
    found = sheets(written(audit, "xlsx"))
    assert tuple(found) == TABLES
    for name, (headings, *rows) in found.items():
        plain = rows_of(book, audit, name)
        assert list(headings) == list(plain[0])
        assert [[_typed(cell) for cell in row] for row in rows] == [
            [_number(text.removeprefix("'")) for text in row.values()] for row in plain
        ]
    headings, first, *_ = found["register"]
    assert isinstance(first[headings.index("bought on")], datetime)
    assert isinstance(first[headings.index("breaking strength (kN)")], float | int)


def _typed(cell: object) -> str:
    if isinstance(cell, datetime):
        return cell.date().isoformat()
    return _number("" if cell is None else str(cell))


def _number(text: str) -> str:
    """``26.70`` is the number 26.7; a serial such as 0042 stays as it is."""
    return text.rstrip("0").rstrip(".") if text.replace(".", "").isdigit() and "." in text else text


def test_no_cell_of_the_workbook_is_a_formula(book: Book) -> None:
    item = book.gear.add({"name": "=1+1", "category": "other", "maker": "@x", "notes": "https://x.example"})
    made = book.auditing.audit(book.auditing.wanted(book.auditing.blank_form() | {"tag": item.tag}))
    workbook = openpyxl.load_workbook(io.BytesIO(written(made, "xlsx")))
    book.undo()
    kinds = {cell.data_type for sheet in workbook.worksheets for row in sheet.iter_rows() for cell in row}
    assert "f" not in kinds
    assert all(cell.hyperlink is None for sheet in workbook.worksheets for row in sheet.iter_rows() for cell in row)


def test_the_digest_can_be_made_from_the_json_alone(audit: Audit, tags: list[str]) -> None:
    told = json.loads(written(audit, "json"))
    assert [item["tag"] for item in told["items"]] == [item.tag for item in audit.items]
    assert sorted(item["tag"] for item in told["items"]) == sorted(tags)
    lines = "".join(f"{line}\n" for line in told["records"])
    assert told["digest"] == hashlib.sha256(lines.encode()).hexdigest()


class Cells(HTMLParser):
    """The cells of every table, read by the standard library."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[list[str]] = []
        self.inside = False

    def handle_starttag(self, tag: str, attrs: object) -> None:
        if tag == "tr":
            self.rows.append([])
        elif tag in {"td", "th"}:
            self.rows[-1].append("")
            self.inside = True
        elif tag == "div" and self.rows[-1][-1]:
            self.rows[-1][-1] += " | "

    def handle_endtag(self, tag: str) -> None:
        self.inside = self.inside and tag not in {"td", "th"}

    def handle_data(self, data: str) -> None:
        if self.inside:
            self.rows[-1][-1] += data


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_html_is_valid_and_its_register_is_the_logs(audit: Audit, paper: str) -> None:
    text = written(audit, "html", paper=paper, pages=True).decode("utf-8")
    html5lib.HTMLParser(strict=True).parse(text)
    cells = Cells()
    cells.feed(text)
    start = next(place for place, row in enumerate(cells.rows) if row[:1] == ["Item"] and "Missing" in row)
    register = [row for row in cells.rows[start + 1 :] if len(row) == len(cells.rows[start])][: len(audit.items)]
    assert [row[0].split(" | ")[0] for row in register] == [item.tag for item in audit.items]
    assert f"size: {'A4' if paper == 'a4' else 'letter'}" in text
    assert "<script" not in text
    assert "http" not in text


def test_what_people_typed_is_text_in_html(book: Book) -> None:
    item = book.gear.add({"name": "<script>x</script>&\"' [red]", "category": "other", "notes": "חבל 釣り \u202e"})
    made = book.auditing.audit(book.auditing.wanted(book.auditing.blank_form() | {"tag": item.tag}))
    text = written(made, "html", pages=True).decode("utf-8")
    book.undo()
    html5lib.HTMLParser(strict=True).parse(text)
    assert "<script" not in text
    assert "&lt;script&gt;x&lt;/script&gt;&amp;" in text
    assert "\u202e" not in text


def pages(data: bytes) -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_pdf_names_every_item_and_every_page_bears_count_number_and_digest(audit: Audit, paper: str) -> None:
    data = written(audit, "pdf", paper=paper, pages=True)
    found = pages(data)
    size = pypdf.PdfReader(io.BytesIO(data)).pages[0].mediabox
    assert (round(float(size.width)), round(float(size.height))) == {"a4": (842, 595), "letter": (792, 612)}[paper]
    digest = " ".join(audit.digest[place : place + 8] for place in range(0, 64, 8))
    for number, text in enumerate(found, 1):
        assert f"{len(audit.items)} items" in text
        assert digest in text
        assert f"page {number} of {len(found)}" in text
    whole = "\n".join(found)
    for item in audit.items:
        assert whole.count(item.tag) > 1
        assert f"{item.tag}: {item.name}" in whole.replace("\n", " ")
    assert len(found) > len(audit.items)
    assert found[0].count("signature") == 2


def test_the_pdf_tells_dates_gaps_and_attention_as_the_log_does(audit: Audit) -> None:
    whole = "\n".join(pages(written(audit, "pdf")))
    assert f"Overdue: {len(audit.overdue)}" in whole
    assert f"In quarantine: {len(audit.quarantined)}" in whole
    assert f"Examinations: {len(audit.examinations)}" in whole
    assert f"Splices: {len(audit.splices)}" in whole
    for item in audit.items:
        for name, lead in (("made_on", "made"), ("bought_on", "bought"), ("first_used_on", "first used")):
            assert f"{lead} {item.text(name) or 'MISSING'}" in whole
        assert item.text("contact") in whole
    assert whole.count("MISSING") > len(audit.with_gaps)


def test_a_page_that_goes_on_with_an_item_says_which_one(audit: Audit) -> None:
    """A leaf that is taken out of the bundle is still known: every page of an item begins with its tag and name."""
    found = pages(written(audit, "pdf", pages=True))
    first = next(at for at, text in enumerate(found) if text.startswith(f"{audit.items[0].tag}: "))
    names = [f"{item.tag}: {item.name}" for item in audit.items]
    heads = [text.split("\n")[0].removesuffix(", continued") for text in found[first:]]
    assert set(heads) == set(names)
    assert len(heads) > len(names)
    assert heads == sorted(heads, key=names.index)


def test_a_page_that_goes_on_begins_with_its_running_words_once_and_no_page_stays_empty() -> None:
    from gearlog.reports.paper.flow import Flow

    flow = Flow(PAPERS["a4"])
    flow.text("a")
    flow.running = "a, continued"
    flow.turn()
    flow.turn()
    flow.need(flow.depth)
    told = [[mark.lines[0] for mark in leaf if isinstance(mark, Words)] for leaf in flow.leaves]
    assert told == [["a"], ["a, continued"]]


def test_every_printed_page_of_the_html_bears_count_and_digest(audit: Audit) -> None:
    """At its foot where the printing program knows such feet; else in the foot of every table, which it repeats."""
    text = written(audit, "html", pages=True).decode()
    digest = " ".join(audit.digest[place : place + 8] for place in range(0, 64, 8))
    assert re.search(rf'@bottom-left {{ content: "Gear audit as of 2026-11-01 - {len(audit.items)} items - '
                     rf'content digest {digest}"', text)  # fmt: skip
    body = text.partition("<body>")[2].partition(digest)[2]  # the numbers at the head have no page of their own
    tables = re.findall(r"<table>.*?</table>", body, re.DOTALL)
    assert len(tables) > 2 * len(audit.items)
    assert all(digest in table for table in tables)


def test_a_label_tells_that_a_life_has_ended_and_what_is_overdue(audit: Audit) -> None:
    told = {item.tag: label_words(item) for item in audit.items}
    assert told["harness-4"] == "LIFE ENDED 2026-09-01"
    assert told["block-2"] == "OVERDUE 2026-10-13, NOT FOR PEOPLE"
    assert told["helmet-3"] == "due before use"
    assert told["con-5"] == "QUARANTINED"
    assert told["con-1"] == "due 2027-03-14"


def test_the_pdf_is_made_to_the_same_bytes_again(audit: Audit) -> None:
    assert written(audit, "pdf", pages=True) == written(audit, "pdf", pages=True)
    assert written(audit, "xlsx") == written(audit, "xlsx")


def test_an_audit_of_nothing_is_still_a_list(book: Book) -> None:
    made = book.auditing.audit(book.auditing.wanted({"on": "1999"}))
    assert made.items == ()
    assert "0 items" in pages(written(made, "pdf"))[0]
    for kind in ("csv", "xlsx", "html", "json"):
        assert written(made, kind)


def test_letters_of_other_scripts_stand_in_the_pdf() -> None:
    from gearlog.reports.paper.flow import Flow
    from gearlog.reports.paper.leaf import printed

    flow = Flow(PAPERS["a4"])
    flow.text("Łódź Größe Ελλάδα Привет ½ → ✓ 12 mm")
    flow.text("חבל")
    flow.text("a\U000f0000b")
    (text,) = pages(printed(flow.pages(), flow.size, title="x"))
    assert "Łódź Größe Ελλάδα Привет ½ → ✓ 12 mm" in text
    assert "חבל" in {line[::-1] for line in text.splitlines()} | set(text.splitlines())
    assert "a\\U000f0000b" in text


def test_every_sign_of_ascii_stands_in_the_pdf_as_it_is_also_beside_other_scripts_and_in_bold() -> None:
    """Brackets and backslashes mean something to a PDF; a face's first line is written another way than the rest."""
    from gearlog.reports.paper import faces
    from gearlog.reports.paper.flow import Flow
    from gearlog.reports.paper.leaf import printed

    signs = "".join(map(chr, range(33, 127)))
    flow = Flow(PAPERS["a4"].turned)
    for line in (signs, signs, "Größe", signs, f"{signs[:60]}ł"):
        flow.text(line)
        flow.text(line, face=faces.BOLD)
    data = printed(flow.pages(), flow.size, title="x")
    (text,) = pages(data)
    assert text.count(signs) == 6
    document = pypdfium2.PdfDocument(data)
    assert document[0].get_textpage().get_text_range().count(signs) == 6


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_label_bears_its_tag_in_a_code_that_a_decoder_reads(paper: str) -> None:
    size = PAPERS[paper]
    across, down = places(size)
    tags = [f"line-{number}" for number in range(across * down)] + ["a-tag-of-32-characters-in-length", "釣り-1"]
    labels = [Label(tag, "Long climbing line, blue marks at end A", "due 2027-05-01") for tag in tags]
    document = pypdfium2.PdfDocument(sheet_of(labels, paper=paper))
    found = []
    for page in document:
        picture = page.render(scale=3).to_pil().convert("1").convert("L")  # black and white, 216 dots an inch
        found += [code.text for code in zxingcpp.read_barcodes(picture)]
    assert sorted(found) == sorted(tags)
    assert len(document) == 2
    text = document[0].get_textpage().get_text_range()
    assert text.count("due 2027-05-01") == across * down


def test_labels_are_made_for_what_is_in_use(book: Book, audit: Audit) -> None:
    count, data = len(book.auditing.labelled(audit)), book.auditing.labels(audit)
    text = "\n".join(pages(data))
    for item in audit.items:
        out_of_use = item.status in {"retired", "destroyed", "lost"}
        assert (item.tag in text.split()) != out_of_use, item.tag
    assert count == sum(item.status not in {"retired", "destroyed", "lost"} for item in audit.items)
    assert text.count("QUARANTINED") == len(audit.quarantined)
