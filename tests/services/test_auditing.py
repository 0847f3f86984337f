"""The audit: what it lists of which day and set, what it says is missing, and the digest that anybody can compute."""

from __future__ import annotations

import csv
import hashlib
import io
import json
from datetime import date

import pytest

from gearlog.domain.audited import Audit
from gearlog.domain.item import Item
from gearlog.domain.plan import Plan
from gearlog.domain.record import Record, to_plain
from gearlog.domain.strength_test import StrengthTest
from gearlog.domain.vocabulary import Status
from gearlog.reports.audit_words import MISSING, findings_of, result_of
from gearlog.services.audit import HEADINGS
from gearlog.services.book import Book, open_sample
from tests.making import made_form
from tests.services.conftest import HOLLOW, Faults


def add(book: Book, name: str, *events: dict[str, str], **form: str) -> Item:
    item = book.gear.add(HOLLOW | {"name": name} | form)
    for event in events:
        book.gear.record_event(item.id, event)
    return item


def examined(on: str, **more: str) -> dict[str, str]:
    return {"kind": "examined", "happened_on": on, "by": "k.l."} | more


def audit(book: Book, **form: str) -> Audit:
    return book.auditing.audit(book.auditing.wanted(book.auditing.blank_form() | form))


def register(book: Book) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(book.auditing.table(audit(book)).decode("utf-8"))))


def test_an_empty_log_lists_nothing_and_says_so(book: Book) -> None:
    made = audit(book)
    assert (made.items, made.gaps, made.records) == ((), (), ())
    assert made.digest == hashlib.sha256(b"").hexdigest()


def test_the_list_to_hand_over_hides_nothing(book: Book) -> None:
    for kind in ("retired", "lost", "quarantined", "destroyed"):
        add(book, kind, {"kind": kind, "happened_on": "2025-05-01"})
    assert {row["status"] for row in register(book)} == {
        status.value for status in Status if status is not Status.IN_SERVICE
    }


def test_a_line_of_the_list_to_hand_over(book: Book, rope: Item, plan: Plan) -> None:
    book.diary.record(made_form(book, plan), plan)
    book.gear.record_event(rope.id, examined("2025-03-31", next_due_on="2025-09"))
    book.gear.record_event(rope.id, {"kind": "cut", "happened_on": "2025-05-20", "cut_end": "B", "length": "5 ft"})
    (row,) = register(book)
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
        "gaps": "no model; no contact of maker or supplier; no serial; no standards; no date of manufacture; "
        "no first use; "
        "no limit of life; "
        "last examination: no reason, result, findings",
        "examinations": "2025-03-31: reason MISSING, result MISSING, findings MISSING, by k.l., next due 2025-09",
    }
    assert {heading: row[heading] for heading in told} == told


def test_what_was_typed_cannot_become_a_formula_in_the_list(book: Book) -> None:
    add(book, "=1+1", maker="@x", serial="-5")
    (row,) = register(book)
    assert not row["name"].startswith("=")
    assert not row["maker"].startswith("@")
    assert row["serial or batch"] == "-5"


def test_as_of_a_past_day_later_things_had_not_happened(book: Book) -> None:
    rope = add(book, "line", examined("2025-02-01", next_due_on="2025-05-01"), bought_on="2025-01-10")
    book.gear.record_event(rope.id, {"kind": "retired", "happened_on": "2025-05-20", "notes": "worn"})
    before, after = audit(book, on="2025-05-10"), audit(book)
    (then,), (now,) = before.items, after.items
    assert (then.status, then.overdue, then.due_on) == (Status.IN_SERVICE, True, date(2025, 5, 1))
    assert (now.status, now.overdue) == (Status.RETIRED, False)
    assert [item.left_how for item in after.retired] == ["retired, worn"]
    assert before.retired == ()
    assert before.late == 1  # the examination was written down on 2025-06-01


@pytest.mark.parametrize(
    ("since", "told"), [("2025-05-19", ["line"]), ("2025-05-20", ["line"]), ("2025-05-21", []), ("2024-01", ["line"])]
)
def test_what_left_use_is_told_since_the_last_audit(book: Book, since: str, told: list[str]) -> None:
    add(book, "line", {"kind": "retired", "happened_on": "2025-05-20"})
    assert [item.tag for item in audit(book, since=since).retired] == told


def test_a_set_lists_its_items_and_no_other(book: Book) -> None:
    add(book, "a", assigned_to="climber 1", kept_at="van 1")
    add(book, "b", assigned_to="climber 1", kept_at="van 2")
    add(book, "c", assigned_to="Smith, J.", kept_at="van 2", category="sling")
    asked = [
        ({"climber": "CLIMBER 1"}, ["a", "b"]),
        ({"climber": "climber 1", "place": "van 2"}, ["b"]),
        ({"place": "van 1, van 2"}, ["a", "b", "c"]),
        ({"climber": "Smith, J."}, ["c"]),
        ({"category": "sling"}, ["c"]),
        ({"tag": "a, c"}, ["a", "c"]),
    ]
    for form, tags in asked:
        assert [item.tag for item in audit(book, **form).items] == tags, form


def test_a_kit_lists_what_is_in_it(book: Book) -> None:
    first, _ = add(book, "a"), add(book, "b")
    kit = book.kits.add({"name": "bag 1", "tag": "bag-1"})
    book.kits.put(kit.id, first.tag)
    assert [item.tag for item in audit(book, kit="bag-1").items] == ["a"]


def test_what_cannot_be_chosen_is_refused_with_what_can(book: Book, faults: Faults) -> None:
    add(book, "a", kept_at="van 1")
    refused = faults(lambda: audit(book, place="van 9", on="2025-05-01", since="2025-05-02", category="sail"))
    assert set(refused) == {"place", "since", "category"}
    assert "van 1" in refused["place"]


def test_every_gap_is_counted_and_told_with_its_item(book: Book) -> None:
    add(book, "a", examined("2025-03-31"))
    add(book, "b", {"kind": "retired", "happened_on": "2025-05-01"})
    made = audit(book)
    assert dict(made.gaps)["no serial"] == 1  # what is out of use need not be filled in
    a = made.items[0]
    missing = {one.id for one in a.particulars if one.asked and not one.text}
    assert missing == {"model", "contact", "serial", "standards", "made_on", "first_used_on", "life_limit"}
    assert "last examination: no reason, result, findings" in a.gaps


def test_the_digest_is_that_of_the_records_and_of_nothing_else() -> None:
    """Made anew from the log's records by the stated rule, with the standard library's JSON."""
    with open_sample(today=lambda: date(2026, 11, 1)) as book:
        made = audit(book)
        records: list[tuple[str, Record]] = []
        for row in book.gear.rows():
            history = book.gear._shelf.history_of(row.item.id)
            records += [("item", history.item), *(("event", one) for one in history.events)]
            records += [("inspection", one) for one in history.inspections]
            records += [("splice", one) for one in history.splices]
        tests = book.gear._shelf.store.records(StrengthTest)
        records += [("test", one) for one in tests if not one.struck_because]
    lines = {
        f"{kind} {json.dumps(to_plain(one), sort_keys=True, ensure_ascii=False, separators=(',', ':'))}\n".encode()
        for kind, one in records
    }
    assert made.digest == hashlib.sha256(b"".join(sorted(lines))).hexdigest()


def test_two_lists_of_the_same_records_have_one_digest_whatever_their_form(book: Book) -> None:
    rope = add(book, "a", examined("2025-03-31"))
    first = audit(book, paper="letter", format="csv")
    assert audit(book, pages="yes", since="2020").digest == first.digest
    book.gear.record_event(rope.id, {"kind": "washed", "happened_on": "2025-06-01"})
    assert audit(book).digest != first.digest
    book.undo()
    assert audit(book).digest == first.digest


def test_an_examination_tells_date_reason_findings_who_and_next_due() -> None:
    with open_sample(today=lambda: date(2026, 11, 1)) as book:
        made = audit(book)
        inspections = [one for row in book.gear.rows() for one in book.inspecting.of(row.item.id)]
    told = {(one.on, one.by) for one in made.examinations}
    for inspection in inspections:
        if not inspection.struck_because:
            assert (inspection.inspected_on.text, inspection.inspector) in told


def test_the_tables_of_a_small_log_to_the_byte(book: Book) -> None:
    add(book, "line", examined("2025-03-31", next_due_on="2025-09-30", notes="fit; no cuts"), serial="=7")
    add(book, "old", {"kind": "retired", "happened_on": "2025-05-20", "notes": "worn, by the bark"}, category="sling")
    made = audit(book)
    tables = {name: book.auditing.table(made, name).decode() for name in ("examinations", "attention", "gaps")}
    assert tables["examinations"] == (
        "tag,name,date,reason,examined by,competence,result,findings,next due on,remarks\r\n"
        "line,line,2025-03-31,MISSING,k.l.,not on record,MISSING,see remarks,2025-09-30,fit; no cuts\r\n"
    )
    assert tables["attention"] == (
        "what,tag,name,category,why\r\n"
        'Left use since 2024-06-01,old,old,sling,"2025-05-20: retired, worn, by the bark"\r\n'
    )
    assert tables["gaps"].splitlines() == [
        "tag,name,missing",
        *(f"line,line,{gap}" for gap in (
            "no model", "no contact of maker or supplier", "no standards", "no date of manufacture", "no first use",
            "no limit of life",
        )),
        'line,line,"last examination: no reason, result"',
    ]  # fmt: skip


def test_own_words_beside_an_examination_are_remarks_and_no_result(book: Book) -> None:
    """Nobody gave a verdict, so none is told; a list that was taken in leaves such words with what it tells."""
    add(book, "line", examined("2025-03-31", notes="as the list old.csv tells"))
    made = audit(book)
    (one,) = made.examinations
    assert result_of(one) == MISSING
    assert findings_of(one) == ("remarks: as the list old.csv tells",)
    assert "last examination: no reason, result" in made.items[0].gaps
    csv_line = made.items[0].line[HEADINGS.index("examinations")]
    assert "result MISSING" in csv_line
    assert "reason MISSING" in csv_line
