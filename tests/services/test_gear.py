from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

import pytest

from gearlog.domain.item import Item
from gearlog.domain.vocabulary import End, EndState, Status
from gearlog.errors import NotFoundError
from gearlog.services.book import Book

Faults = Callable[[Callable[[], object]], Mapping[str, str]]


def test_what_was_typed_comes_back_in_the_form_as_typed(book: Book) -> None:
    typed = book.gear.blank_form() | {
        "name": "  line [/] [red] \u202eabc \u7e69 ",
        "tag": "Line-7",
        "category": "Rigging line",
        "breaking_strength": "5400 lbf",
        "diameter": "1-1/2 in",
        "construction": "cover-loaded",
        "strands": "16",
        "cover_fibre": "nylon",
        "made_on": "2024-05",
        "documents": "sheet-12.pdf,  receipt 2024-77",
        "life_years_from_made": "10",
        "life_read_at": "sheet, page 3",
        "elongation_percent": "1.5",
        "cut_from": "",
        "notes": "two\nlines",
    }
    item = book.gear.add(typed)
    form = book.gear.form_of(item.id)
    changed = {"name": typed["name"].strip(), "category": "rigging-line", "cover_fibre": "polyamide",
               "documents": "sheet-12.pdf, receipt 2024-77"}  # fmt: skip
    assert form == typed | changed
    assert book.gear.change(item.id, form) == item


def test_a_tag_is_made_from_the_name_and_unlike_all_others(book: Book) -> None:
    tags = [book.gear.add({"name": "Long line", "category": "lifeline"}).tag for _ in range(2)]
    assert tags == ["long-line", "long-line-2"]
    assert book.gear.by_tag("LONG-LINE").tag == "long-line"


def test_every_fault_of_a_form_is_told_at_once(book: Book, faults: Faults) -> None:
    told = faults(
        lambda: book.gear.add(
            {"diameter": "12 bananas", "construction": "hollow-braid", "strands": "-1", "made_on": "2024-13",
             "breaking_strength": "22 kn", "used_for": "fun", "colour": "red"}
        )
    )  # fmt: skip
    assert set(told) >= {
        "name",
        "category",
        "diameter",
        "strands",
        "made_on",
        "breaking_strength",
        "used_for",
        "colour",
    }
    assert book.gear.rows() == ()


def test_what_is_typed_of_a_rope_is_not_dropped_for_want_of_its_construction(book: Book, faults: Faults) -> None:
    told = faults(lambda: book.gear.add({"name": "x", "category": "lifeline", "diameter": "12 mm"}))
    assert "diameter" in told["construction"]


def test_a_future_date_and_dates_out_of_order_are_refused(book: Book, faults: Faults) -> None:
    told = faults(lambda: book.gear.add({"name": "x", "category": "helmet", "made_on": "2026"}))
    assert set(told) == {"made_on"}
    told = faults(lambda: book.gear.add({"name": "x", "category": "helmet", "made_on": "2024", "bought_on": "2023-05"}))
    assert set(told) == {"bought_on"}


def test_two_items_do_not_bear_one_tag(book: Book, rope: Item, faults: Faults) -> None:
    told = faults(lambda: book.gear.add({"name": "x", "category": "helmet", "tag": rope.tag.upper()}))
    assert set(told) == {"tag"}
    assert book.gear.change(rope.id, book.gear.form_of(rope.id)).tag == rope.tag


def test_rows_follow_every_change_and_are_kept_between_two_looks(book: Book, rope: Item) -> None:
    before = book.gear.rows()
    assert book.gear.rows() is before
    book.gear.add({"name": "helmet", "category": "helmet"})
    after = book.gear.rows()
    assert [row.tag for row in after] == ["long-climbing-line", "helmet"]
    assert after[0] is before[0]
    book.gear.record_event(rope.id, {"kind": "examined", "happened_on": "2025-05-01"})
    assert book.gear.rows()[0].due.due_on == date(2025, 11, 1)


def test_rows_are_made_anew_on_another_day() -> None:
    from gearlog.services.book import memory_book

    days = [date(2025, 6, 1)]
    book = memory_book(today=lambda: days[-1])
    item = book.gear.add({"name": "harness", "category": "harness"})
    book.gear.record_event(item.id, {"kind": "examined", "happened_on": "2025-05-01"})
    states = [book.gear.rows()[0].due.state]
    days.append(date(2025, 11, 2))
    assert [*states, book.gear.rows()[0].due.state] == ["in-date", "overdue"]


def test_a_filter_finds_what_a_person_remembers_in_small_letters(book: Book) -> None:
    book.gear.add({"name": "\u00dcber Line", "category": "sling", "maker": "Maker B", "kept_at": "VAN 2"})
    (row,) = book.gear.rows()
    assert all(word in row.search for word in ("\u00fcber line", "maker b", "van 2", "sling", "in service"))


def test_history_gives_the_status_and_a_struck_entry_counts_for_nothing(book: Book, rope: Item) -> None:
    event = book.gear.record_event(rope.id, {"kind": "fall-arrested", "happened_on": "2025-05-20"})
    assert book.gear.card(rope.id).status is Status.QUARANTINED
    book.gear.strike(event.id, "it was the other rope")
    card = book.gear.card(rope.id)
    assert card.status is Status.IN_SERVICE
    assert [entry.struck_because for entry in card.events] == ["it was the other rope"]


def test_an_entry_is_struck_only_with_a_reason(book: Book, rope: Item, faults: Faults) -> None:
    event = book.gear.record_event(rope.id, {"kind": "washed", "happened_on": "2025-05-20"})
    assert set(faults(lambda: book.gear.strike(event.id, "  "))) == {"struck_because"}
    with pytest.raises(NotFoundError):
        book.gear.strike("nothing", "why")


def test_more_cannot_be_cut_off_than_is_there(book: Book, rope: Item, faults: Faults) -> None:
    cut = {"kind": "cut", "happened_on": "2025-05-20", "cut_end": "A"}
    told = faults(lambda: book.gear.record_event(rope.id, cut | {"length": "45.001 m"}))
    assert "45 m" in told["length"]
    book.gear.record_event(rope.id, cut | {"length": "5 ft"})
    assert book.gear.card(rope.id).length_now_m == pytest.approx(45 - 5 * 0.3048, abs=1e-12)


def test_the_card_names_what_is_missing(book: Book, rope: Item) -> None:
    gaps = book.gear.card(rope.id).gaps
    assert {"no serial", "no first use", "never examined"} <= set(gaps)
    assert "no maker" not in gaps


def test_a_piece_takes_its_parents_data_and_its_length_in_one_save(book: Book, rope: Item) -> None:
    form = book.gear.form_for_piece(rope.id) | {"name": "lanyard", "category": "lanyard", "length_bought": "5 m"}
    piece = book.gear.add(form)
    card = book.gear.card(rope.id)
    assert (piece.maker, piece.breaking_strength, piece.bought_on) == (
        rope.maker,
        rope.breaking_strength,
        rope.bought_on,
    )
    assert (card.length_now_m, [child.tag for child in card.children]) == (40.0, ["lanyard"])
    assert book.gear.card(piece.id).parent == rope
    assert book.gear.form_of(piece.id)["parent"] == rope.tag
    book.undo()
    assert book.gear.card(rope.id).length_now_m == 45.0
    assert len(book.gear.rows()) == 1


def test_a_typed_parent_fills_only_what_was_left_empty(book: Book, rope: Item) -> None:
    piece = book.gear.add(
        {"name": "short", "category": "sling", "parent": rope.tag, "length_bought": "2 m", "diameter": "11.9 mm"}
    )
    assert piece.rope is not None
    assert (piece.rope.construction, str(piece.rope.diameter)) == ("hollow-braid", "11.9 mm")


@pytest.mark.parametrize(
    ("place", "end_a", "end_b"),
    [("0 m", EndState.BARE, EndState.SEWN), ("40 m", EndState.KNOTTED, EndState.BARE)],
)
def test_the_end_that_went_with_a_piece_is_bare_now(
    book: Book, rope: Item, place: str, end_a: EndState, end_b: EndState
) -> None:
    book.gear.change(rope.id, book.gear.form_of(rope.id) | {"end_a": "knotted", "end_b": "sewn"})
    form = book.gear.form_for_piece(rope.id) | {"name": "piece", "length_bought": "5 m", "cut_from": place}
    book.gear.add(form)
    ends = book.gear.card(rope.id).ends
    assert (ends[End.A].state, ends[End.B].state) == (end_a, end_b)


@pytest.mark.parametrize(
    ("told", "refused"),
    [
        ({}, True),
        ({"parent_end": "b"}, False),
        ({"cut_from": "40 m"}, False),
        ({"cut_from": "40 m", "parent_end": "A"}, True),
        ({"cut_from": "20 m"}, True),
    ],
)
def test_which_end_went_with_a_piece_must_be_told_where_the_ends_differ(
    book: Book, rope: Item, faults: Faults, told: dict[str, str], *, refused: bool
) -> None:
    book.gear.change(rope.id, book.gear.form_of(rope.id) | {"end_b": "sewn"})
    form = book.gear.form_for_piece(rope.id) | {"name": "piece", "length_bought": "5 m"} | told
    if refused:
        assert set(faults(lambda: book.gear.add(form))) == {"parent_end"}
    else:
        book.gear.add(form)
        assert book.gear.card(rope.id).ends[End.B].state is EndState.BARE


def test_a_cut_is_told_when_a_piece_is_added_and_not_when_it_is_changed(book: Book, rope: Item, faults: Faults) -> None:
    piece = book.gear.add(book.gear.form_for_piece(rope.id) | {"name": "piece", "length_bought": "5 m"})
    form = book.gear.form_of(piece.id) | {"parent_end": "A"}
    assert set(faults(lambda: book.gear.change(piece.id, form))) == {"parent_end"}


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"parent": "nobody"}, "parent"),
        ({"parent": "long-climbing-line", "length_bought": "46 m"}, "length_bought"),
    ],
)
def test_a_piece_that_cannot_be_is_refused(
    book: Book, rope: Item, faults: Faults, change: dict[str, str], field: str
) -> None:
    form = {"name": "x", "category": "sling", "construction": "hollow-braid", **change}
    assert field in faults(lambda: book.gear.add(form))
    assert book.gear.card(rope.id).length_now_m == 45.0


def test_a_rope_is_not_cut_from_itself_nor_from_its_own_piece(book: Book, rope: Item, faults: Faults) -> None:
    piece = book.gear.add(book.gear.form_for_piece(rope.id) | {"name": "piece", "length_bought": "5 m"})
    for tag in (rope.tag, piece.tag):
        form = book.gear.form_of(rope.id) | {"parent": tag}
        assert set(faults(lambda form=form: book.gear.change(rope.id, form))) == {"parent"}  # type: ignore[misc]


def test_undo_takes_back_the_last_change_and_names_it(book: Book, rope: Item) -> None:
    book.gear.change(rope.id, book.gear.form_of(rope.id) | {"name": "other"})
    assert book.undo() == f"change {rope.tag}"
    assert book.gear.item(rope.id) == rope
    assert book.redo() == f"change {rope.tag}"
    assert book.gear.item(rope.id).name == "other"
