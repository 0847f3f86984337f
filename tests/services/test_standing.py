"""Decisions with reasons, loans and assignments, kits, many at once, finding, and an item's past."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from gearlog.domain.identity import Tags
from gearlog.domain.item import Item
from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import Category, End, EndState, EventKind, Status
from gearlog.errors import NotFoundError
from gearlog.services.book import Book, memory_book, open_book
from gearlog.services.device_forms import SHOWN, WHOLE_FORM, field_matters
from tests.making import made_form

Faults = Callable[[Callable[[], object]], Mapping[str, str]]
BY = {"happened_on": "2025-05-20", "by": "AB", "notes": "so"}


@pytest.mark.parametrize(
    ("kind", "change", "field"),
    [
        (EventKind.QUARANTINED, {"notes": " "}, "notes"),
        (EventKind.RETIRED, {"by": ""}, "by"),
        (EventKind.RELEASED, {}, "kind"),  # nothing to free from
        (EventKind.DESTROYED, {"happened_on": "2025-06-03"}, "happened_on"),
    ],
)
def test_a_decision_needs_who_and_why_and_must_fit(
    book: Book, rope: Item, faults: Faults, kind: EventKind, change: dict[str, str], field: str
) -> None:
    assert set(faults(lambda: book.standing.decide(rope.id, kind, BY | change))) == {field}
    assert book.gear.card(rope.id).events == ()


def test_retired_textile_asks_for_its_destruction_until_it_is_noted(book: Book, rope: Item, faults: Faults) -> None:
    book.standing.decide(rope.id, EventKind.RETIRED, BY)
    assert any("destruction is not noted" in note for note in book.gear.card(rope.id).notes)
    assert set(faults(lambda: book.standing.decide(rope.id, EventKind.RETIRED, BY))) == {"item"}
    book.standing.decide(rope.id, EventKind.DESTROYED, BY)
    card = book.gear.card(rope.id)
    assert (card.status, card.notes) == (Status.DESTROYED, ())


def test_gear_out_of_service_is_not_picked_and_says_why(book: Book, rope: Item, faults: Faults) -> None:
    helmet = book.gear.add({"name": "helmet", "category": "helmet"})
    kit = book.kits.add({"name": "kit of climber 1", "items": helmet.tag})
    assert book.standing.refusal(rope.id) == ""
    book.gear.record_event(rope.id, {"kind": "fall-arrested", "happened_on": "2025-05-20"})
    why = "fall arrested on 2025-05-20"
    hand = {"happened_on": "2025-05-21", "to": "climber 1"}
    assert why in book.standing.refusal(rope.id)
    assert why in faults(lambda: book.kits.put(kit.id, rope.tag))["item"]
    assert why in faults(lambda: book.kits.add({"name": "other", "items": rope.tag}))["items"]
    assert why in faults(lambda: book.standing.lend(rope.id, hand))["item"]
    assert why in faults(lambda: book.standing.assign(rope.id, hand))["item"]
    plan = book.planner.plan(book.planner.form_for(rope.id, "A") | {"method": "hollow-eye", "eye": "150 mm"})
    (check,) = (check for check in plan.checks if check.code == "rope-out-of-service")
    assert why in check.message


def test_a_loan_stands_until_it_is_given_back(book: Book, rope: Item, faults: Faults) -> None:
    hand = {"happened_on": "2025-05-20", "to": "climber 2"}
    assert set(faults(lambda: book.standing.give_back(rope.id, hand))) == {"item"}
    assert set(faults(lambda: book.standing.lend(rope.id, hand | {"to": " "}))) == {"to"}
    book.standing.lend(rope.id, hand)
    loan = book.gear.card(rope.id).loan
    assert loan is not None
    assert loan.to == "climber 2"
    assert "climber 2" in faults(lambda: book.standing.lend(rope.id, hand))["item"]
    book.standing.give_back(rope.id, {"happened_on": "2025-05-25"})
    assert book.gear.card(rope.id).loan is None
    past = book.gear.card(rope.id, date(2025, 5, 24)).loan
    assert past is not None


def test_who_has_an_item_is_in_its_data_and_in_its_history(book: Book, rope: Item) -> None:
    book.standing.assign(rope.id, {"happened_on": "2025-05-20", "to": "climber 1"})
    book.gear.change(rope.id, {"assigned_to": "climber 2"})
    book.gear.record_event(rope.id, {"kind": "assigned", "happened_on": "2025-06-01", "to": "climber 3"})
    assert book.gear.item(rope.id).assigned_to == book.gear.card(rope.id).assigned_to == "climber 3"
    assert book.gear.card(rope.id, date(2025, 5, 31)).assigned_to == "climber 1"
    assert [event.to for event in book.gear.card(rope.id).events] == ["climber 3", "climber 2", "climber 1"]


def test_a_kit_is_given_in_one_save_and_tells_what_in_it_must_not_be_used(book: Book, rope: Item) -> None:
    con = book.gear.add({"name": "connector", "category": "connector"})
    kit = book.kits.add({"name": "kit", "items": f"{rope.tag}, {con.tag}"})
    book.kits.assign(kit.id, "climber 1")
    assert [book.gear.item(one.id).assigned_to for one in (rope, con)] == ["climber 1"] * 2
    book.undo()
    assert [book.gear.item(one.id).assigned_to for one in (rope, con)] == [""] * 2
    book.standing.decide(con.id, EventKind.QUARANTINED, BY)
    (row,) = book.kits.rows()
    assert [one.tag for one in row.rows] == [rope.tag, con.tag]
    assert "so on 2025-05-20" in row.out[0]
    book.kits.change(kit.id, {"kept_at": "van 2"})  # what is in it already may stay in
    assert book.kits.take(kit.id, con.id).items == (rope.id,)
    assert book.kits.of(rope.id) == (book.kits.kit(kit.id),)


def test_ten_equal_connectors_come_in_one_save_each_with_its_serial(book: Book, faults: Faults) -> None:
    form = {"name": "Screw connector", "category": "connector", "gate": "screw", "minor_axis_strength": "7 kN"}
    made = book.gear.add_many(form | {"tag": "con-7"}, "F099..F101, X5")
    assert [(item.tag, item.serial) for item in made] == [
        ("con-7", "F099"), ("con-8", "F100"), ("con-9", "F101"), ("con-10", "X5"),
    ]  # fmt: skip
    assert all(item.device is not None and item.device.gate == "screw" for item in made)
    assert book.undo() == "add 4 x Screw connector"
    assert book.gear.rows() == ()
    assert [item.tag for item in book.gear.add_many(form, count="3")] == [
        "screw-connector", "screw-connector-2", "screw-connector-3",
    ]  # fmt: skip
    for serials, count, field in (
        ("", "", "count"), ("", "0", "count"), ("A, A", "", "serials"), ("F5..F1", "", "serials"),
        ("F1..G9", "", "serials"), ("A, B", "3", "count"), ("F1..F9999", "", "serials"), ("", "99999", "count"),
    ):  # fmt: skip
        assert set(faults(lambda s=serials, c=count: book.gear.add_many(form, s, c))) == {field}  # type: ignore[misc]
    assert len(book.gear.rows()) == 3


def test_many_equal_items_ask_once_for_the_tags_of_all_that_there_are(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[object] = []

    class Counted(Tags):
        def __init__(self, tags: Iterable[str] = ()) -> None:
            asked.append(tags)
            super().__init__(tags)

    monkeypatch.setattr("gearlog.services.gear.Tags", Counted)
    assert len(book.gear.add_many({"name": "ring", "category": "connector"}, count="40")) == 40
    assert len(asked) == 1


def test_a_renamed_tag_keeps_every_link_and_the_old_one_still_leads_to_it(book: Book, rope: Item, plan: Plan) -> None:
    book.diary.record(made_form(book, plan) | {"made_on": "2025-05-01", "end": "A"}, plan)
    piece = book.gear.add(
        book.gear.form_for_piece(rope.id) | {"name": "piece", "length_bought": "5 m", "parent_end": "B"}
    )
    kit = book.kits.add({"name": "kit", "items": rope.tag})
    book.gear.change(rope.id, {"tag": "L1"})
    card = book.gear.card(rope.id)
    assert (card.item.tag, len(card.splices), card.children) == ("L1", 1, (book.gear.item(piece.id),))
    assert book.gear.card(piece.id).parent == card.item
    assert book.kits.row(kit.id).rows[0].tag == "L1"
    assert book.gear.by_tag("LONG-climbing-line").id == rope.id
    other = book.gear.add({"name": "x", "category": "helmet", "tag": "long-climbing-line"})
    assert book.gear.by_tag("long-climbing-line") == other  # a tag that is borne wins over one that was


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("LINE-2\r\n", ["line-2"]),  # as a scanner types it
        ("line", ["line-2", "line-20", "red-line"]),
        ("x77", ["red-line"]),
        ("maker b", ["line-20"]),
        ("b line", ["line-2", "line-20"]),
        (" ", []),
        ("nothing", []),
    ],
)
def test_anything_is_found_by_a_few_letters_or_its_tag(book: Book, text: str, found: list[str]) -> None:
    for form in (
        {"name": "a", "tag": "red-line", "serial": "X77"},
        {"name": "b", "tag": "line-2"},
        {"name": "c", "tag": "line-20", "maker": "Maker B"},
    ):
        book.gear.add({"category": "other", **form})
    assert [row.tag for row in book.gear.find(text)] == found


def test_a_piece_with_a_spliced_end_takes_the_splice_with_it(book: Book, rope: Item, plan: Plan) -> None:
    splice = book.diary.record(made_form(book, plan) | {"made_on": "2025-05-01", "end": "A"}, plan)
    form = book.gear.form_for_piece(rope.id) | {"name": "lanyard", "length_bought": "5 m", "parent_end": "A"}
    piece = book.gear.card(book.gear.add(form).id)
    assert (piece.ends[End.A].state, piece.ends[End.A].splice) == (EndState.SPLICED, splice)
    assert piece.ends[End.B].state is EndState.BARE
    assert book.gear.card(rope.id).ends[End.A].state is EndState.BARE
    assert [entry.what for entry in piece.story if entry.inherited] == ["spliced", "cut"], "in the order of time"
    assert piece.account is not None
    assert piece.account.in_splices[End.A] == Fraction(plan.rope_used_m or 0)
    along = book.gear.along(piece)
    assert along is not None
    assert [mark.what for mark in along.marks] == ["splice", "bury"]
    assert along.marks[0].to_m == pytest.approx(0.804)  # the throat of this plan


def test_an_end_is_cut_off_with_its_splice_measured_from_the_throat(
    book: Book, rope: Item, plan: Plan, faults: Faults
) -> None:
    off = {"cut_as": "end", "cut_end": "A", "from_throat": "196 mm", "happened_on": "2025-05-20"}
    assert set(faults(lambda: book.gear.cut(rope.id, off))) == {"from_throat"}  # no splice stands there
    book.diary.record(made_form(book, plan) | {"made_on": "2025-05-01", "end": "A"}, plan)
    assert set(faults(lambda: book.gear.cut(rope.id, off | {"length": "1 m"}))) == {"from_throat"}
    cut = book.gear.cut(rope.id, off)
    assert cut.length is not None
    assert cut.length.si == pytest.approx(1.0, abs=1e-9)  # 804 mm of rope in the splice and 196 mm behind its throat
    card = book.gear.card(rope.id)
    assert card.ends[End.A].state is EndState.BARE
    assert card.length_now_m == pytest.approx(44.0)
    assert card.account is not None
    assert card.account.balances


def test_nothing_is_cut_from_what_was_retired(book: Book, rope: Item, faults: Faults) -> None:
    book.standing.decide(rope.id, EventKind.RETIRED, BY)
    form = book.gear.form_for_piece(rope.id) | {"name": "piece", "length_bought": "5 m", "parent_end": "A"}
    assert "retired" in faults(lambda: book.gear.add(form))["parent"]
    book.gear.cut(rope.id, {"cut_as": "trim", "cut_end": "B", "length": "1 m", "happened_on": "2025-05-21"})


def test_a_piece_and_its_rope_are_told_as_they_were_on_a_past_day(book: Book, rope: Item) -> None:
    form = book.gear.form_for_piece(rope.id) | {"name": "piece", "length_bought": "5 m", "parent_end": "A"}
    piece = book.gear.add(form | {"cut_on": "2025-03-10"})
    assert book.gear.card(rope.id, date(2025, 3, 9)).length_now_m == 45
    assert book.gear.card(rope.id, date(2025, 3, 9)).children == ()
    assert book.gear.card(rope.id, date(2025, 3, 10)).length_now_m == 40
    with pytest.raises(NotFoundError, match="2025-03-10"):
        book.gear.card(piece.id, date(2025, 3, 9))
    assert [row.tag for row in book.gear.rows(date(2025, 3, 9))] == [rope.tag]
    assert book.gear.card(rope.id, date(2025, 3, 10)).written_later == 1
    with pytest.raises(NotFoundError):
        book.gear.card(rope.id, date(2025, 3, 10), recorded=True)


def test_what_is_due_by_a_day_comes_in_order_and_quarantine_is_told_last(book: Book) -> None:
    tags = ("new", "soon", "late", "far", "bad", "gone")
    items = {tag: book.gear.add({"name": tag, "tag": tag, "category": "harness"}) for tag in tags}
    for tag, day in (("soon", "2025-01-02"), ("late", "2024-10-01"), ("far", "2025-05-20")):
        book.gear.record_event(items[tag].id, {"kind": "examined", "happened_on": day})
    book.standing.decide(items["bad"].id, EventKind.QUARANTINED, BY)
    book.standing.decide(items["gone"].id, EventKind.RETIRED, BY)
    assert [(row.tag, row.state) for row in book.lists.due()] == [
        ("new", "never-examined"), ("late", "overdue"), ("bad", "out-of-service"),
    ]  # fmt: skip
    assert [row.tag for row in book.lists.due(within=30 + 1)] == ["new", "late", "soon", "bad"]
    assert [row.tag for row in book.lists.due(date(2025, 7, 2))] == ["new", "late", "soon", "bad"]
    assert [row.tag for row in book.lists.due(date(2024, 12, 1), 365)] == ["late"]  # the others were not known yet
    calendar = book.lists.calendar().decode()
    assert calendar.count("BEGIN:VEVENT") == 4
    assert f"UID:{items['far'].id}-due@gearlog" in calendar
    assert book.lists.calendar(within=31).decode().count("BEGIN:VEVENT") == 3


def test_rule_sets_are_chosen_and_kept_and_ones_own_hold_by_being_there(tmp_path: Path) -> None:
    folder = tmp_path / "log"
    with open_book(folder, today=lambda: date(2025, 6, 1)) as book:
        book.schedule.choose(["europe-fall-protection"])
        with pytest.raises(NotFoundError, match="uk-lifting"):
            book.schedule.choose(["nowhere"])
        item = book.gear.add({"name": "harness", "category": "harness"})
        book.gear.record_event(item.id, {"kind": "examined", "happened_on": "2025-05-01"})
    (folder / "rules").mkdir()
    (folder / "rules" / "crew.toml").write_text(
        'id = "crew"\ntitle = "t"\nregion = "r"\nsummary = "s"\n'
        '[[rule]]\nid = "a"\ntitle = "nine months"\nevery_months = 9\nsource = "our own rule"\n'
    )
    with open_book(folder, today=lambda: date(2025, 6, 1)) as book:
        assert book.schedule.chosen() == ("europe-fall-protection", "crew")
        assert book.gear.rows()[0].due.due_on == date(2026, 2, 1)
        book.schedule.choose([])
        assert book.gear.rows()[0].due.due_on == date(2026, 2, 1)
    (folder / "rules" / "crew.toml").write_text("id = ")
    with open_book(folder, today=lambda: date(2025, 6, 1)) as book:
        assert "crew.toml" in book.schedule.faults()[0]
        assert book.gear.rows()[0].due.due_on == date(2025, 11, 1)  # what it would have said is not known: six months


def test_a_form_shows_what_matters_for_a_category() -> None:
    shown = {category: {field.name for field in WHOLE_FORM if field_matters(field.name, {"category": category})}
             for category in Category}  # fmt: skip
    assert "gate" in shown[Category.CONNECTOR]
    assert "diameter" not in shown[Category.CONNECTOR]
    assert {"construction", "diameter"} <= shown[Category.LIFELINE]
    assert "gate" not in shown[Category.LIFELINE]
    assert "sheave" in shown[Category.PULLEY]
    assert all(SHOWN[category] <= shown[category] for category in SHOWN)
    assert all("serial" in names and "life_years_from_made" in names for names in shown.values())
    assert field_matters("gate", {"category": "helmet", "gate": "screw"})  # what is typed is never hidden


def test_changing_one_field_leaves_the_others(book: Book) -> None:
    form = {"name": "c", "category": "connector", "gate": "screw", "gate_open_strength": "7 kN", "came": "used"}
    item = book.gear.add(form)
    changed = book.gear.change(item.id, {"name": "d"})
    assert (changed.name, changed.device, changed.came) == ("d", item.device, item.came)


def test_a_life_of_what_was_bought_used_is_not_counted_from_the_purchase() -> None:
    book = memory_book(today=lambda: date(2025, 6, 1))
    form = {"name": "h", "category": "harness", "bought_on": "2025-01", "life_years_from_made": "10"}
    used = book.gear.card(book.gear.add(form | {"came": "used"}).id).life_end
    assert (used.on, used.state) == (None, "unknown")
    assert "bought used" in used.reason
    assert book.gear.card(book.gear.add(form).id).life_end.on == date(2035, 1, 1)
