"""What an item's card says: what is unknown with its reason, findings where they lie now, a life as a line of time."""

from __future__ import annotations

from datetime import date

from gearlog.domain.inspection import InspectionKind
from gearlog.domain.item import Item
from gearlog.services.book import Book
from gearlog.tui.screens.card import card_words
from tests.making import GOOD, NEW_ROPE
from tests.tui.conftest import ROPE, TODAY, add

WIDTH = 76


def said(book: Book, item: Item, on: date | None = None) -> str:
    card = book.gear.card(item.id, on)
    return card_words(card, book.gear.along(card), book.settings, book.today(), WIDTH).plain


def find(book: Book, item: Item, on: str, line: str = "rope-abrasion", **finding: str) -> None:
    """An interim inspection with one finding."""
    sheet = book.inspecting.sheet(item.id, InspectionKind.INTERIM)
    for one in sheet.lines:
        sheet = sheet.see(one.key)
    sheet = sheet.pass_rest().with_finding(book.inspecting.finding(sheet, finding, line))
    form = book.inspecting.form_for(item.id, InspectionKind.INTERIM)
    book.inspecting.record(sheet, form | {"inspector": "AB", "inspected_on": on})


def trim(book: Book, item: Item, end: str, length: str, on: str) -> None:
    book.gear.cut(item.id, {"cut_as": "trim", "cut_end": end, "length": length, "happened_on": on})


def test_an_unknown_length_says_why_it_is_unknown(book: Book) -> None:
    bare = add(book, **ROPE | {"length_bought": ""})
    assert "not known: its length as bought is not on record" in said(book, bare)
    rope = add(book, **ROPE)
    book.gear.record_event(rope.id, book.gear.blank_event() | {"kind": "cut", "cut_end": "A"})
    shown = said(book, rope)
    assert "not known: the cut of 2025-03-03 has no length" in shown
    assert "Along the rope" not in shown, "nothing is drawn to a scale that nobody knows"
    assert "A  bare      cut since it came" in shown


def test_findings_move_with_their_metre_and_go_with_what_is_cut_off(book: Book) -> None:
    rope = add(book, **ROPE)
    find(book, rope, "2025-01-10", words="worn over a branch", at="12 m", until="14.5 m", severity="watch")
    find(book, rope, "2025-01-11", words="a shiny spot", at="0.4 m", severity="note")
    trim(book, rope, "A", "1.2 m", "2025-02-01")
    shown = said(book, rope)
    assert "worn over a branch, 10.8 m to 13.3 m from A" in shown
    assert "a shiny spot, went with a part that was cut off" in shown
    drawn = next(line for line in shown.splitlines() if line.startswith("~/|"))
    ruler = shown.splitlines()[shown.splitlines().index(drawn) + 1]
    room = WIDTH - 6
    assert drawn.index("?") - 3 == int(10.8 / 43.8 * room)
    assert drawn.rindex("?") - 3 == int(13.3 / 43.8 * room)
    assert ruler.endswith("43.8 m B")
    past = said(book, rope, date(2025, 1, 20))
    assert "12 m to 14.5 m from A" in past
    assert "a shiny spot, at 0.4 m from A" in past


def test_the_life_is_told_from_what_is_to_come_down_to_when_it_was_made(book: Book) -> None:
    rope = add(book, **ROPE | {"made_on": "2024-03", "bought_on": "2024-05-10", "life_years_from_made": "10"})
    book.gear.record_event(rope.id, book.gear.blank_event() | {"kind": "washed", "happened_on": "2024-08-01"})
    wrong = book.gear.record_event(rope.id, book.gear.blank_event() | {"kind": "dropped", "happened_on": "2025-01-02"})
    book.gear.strike(wrong.id, "the other rope")
    lines = said(book, rope).splitlines()
    life = [line for line in lines[lines.index("History") + 1 :] if line[1:3] == "  " and line[3:4] == "2"]
    assert [(line[0], line[3:13].strip(), line[15:26].strip()) for line in life] == [
        (".", "2034-03-01", "end of life"),
        (">", TODAY.isoformat(), "today"),
        ("x", "2025-01-02", "dropped"),
        ("o", "2024-08-01", "washed"),
        ("o", "2024-05-10", "bought"),
        ("o", "2024-03", "made"),
    ]
    assert "STRUCK OUT: the other rope" in "\n".join(lines)


def test_a_sum_of_an_inch_user_is_told_in_feet_and_inches(book: Book) -> None:
    from gearlog.domain.vocabulary import Unit

    rope = add(book, **ROPE | {"length_bought": "150 ft"})
    trim(book, rope, "B", "10 ft", "2025-02-01")
    book.keep(unit=Unit.IMPERIAL)
    shown = said(book, rope)
    assert "150 ft" in shown
    assert "140 ft B" in shown
    assert "It adds up." in shown


def test_a_splice_between_the_ends_stands_where_it_lies_now(book: Book) -> None:
    rope = add(book, **ROPE | {"construction": "hollow-braid", "strands": "12", "lay": "loose", "core_fibre": ""})
    for at in ("12 m", "1 m"):
        form = {"rope": rope.tag, "end": "between", "position": at, "method": "hollow-end-to-end"} | GOOD | NEW_ROPE
        book.diary.record(book.diary.blank_form() | form | {"made_on": "2025-01-10"}, None)
    trim(book, rope, "A", "1.2 m", "2025-02-01")
    lines = [" ".join(line.split()) for line in said(book, rope).splitlines()]
    assert any(line.startswith("2025-01-10 at 10.8 m ") for line in lines)
    assert any(line.startswith("2025-01-10 was at 1 m ") for line in lines), "it went with what was cut off"
