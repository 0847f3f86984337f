from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest

from gearlog.domain.inspection import InspectionKind, Mark, Verdict
from gearlog.domain.item import Item
from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import EventKind, Status
from gearlog.errors import NotFoundError
from gearlog.services.book import Book, open_book
from gearlog.services.inspection_forms import FINDING_FORM
from gearlog.services.reading_forms import field_fault
from gearlog.services.sheet import Sheet, kept_in
from tests.making import made_form

Faults = Callable[[Callable[[], object]], Mapping[str, str]]
WHO = {"inspected_on": "2025-05-31", "inspector": "AB", "competence": "course 2024"}
THOROUGH = InspectionKind.THOROUGH


def seen(sheet: Sheet) -> Sheet:
    for line in sheet.lines:
        sheet = sheet.see(line.key)
    return sheet


def passed(book: Book, item: Item, kind: InspectionKind = THOROUGH) -> Sheet:
    return seen(book.inspecting.sheet(item.id, kind)).pass_rest()


def test_the_rest_passes_only_after_each_line_was_seen(book: Book, rope: Item, faults: Faults) -> None:
    sheet = book.inspecting.sheet(rope.id, THOROUGH)
    for line in sheet.lines[:-1]:
        sheet = sheet.see(line.key)
        assert "lines" in faults(lambda sheet=sheet: sheet.pass_rest())  # type: ignore[misc]
    assert sheet.lines[-1].look in faults(sheet.pass_rest)["lines"]
    assert sheet.answer(sheet.lines[-1].key, Mark.WATCH).pass_rest().unanswered == ()


def test_an_inspection_with_an_open_line_is_not_saved(book: Book, rope: Item, faults: Faults) -> None:
    sheet = passed(book, rope)
    open_one = sheet.clear(sheet.lines[3].key)
    assert sheet.lines[3].look in faults(lambda: book.inspecting.record(open_one, WHO))["lines"]
    assert book.inspecting.of(rope.id) == ()


def test_a_passed_examination_sets_the_next_by_the_rules(book: Book, rope: Item) -> None:
    form = book.inspecting.form_for(rope.id, THOROUGH) | WHO
    assert form["next_due_on"] == "2025-12-01"  # six months after today, 1 June
    book.inspecting.record(passed(book, rope), WHO)
    due = book.gear.card(rope.id).due
    assert (due.state, due.due_on) == ("in-date", date(2025, 11, 30))
    assert "never examined" not in book.gear.card(rope.id).gaps


def test_a_look_before_use_or_between_is_no_thorough_examination(book: Book, rope: Item) -> None:
    for kind in (InspectionKind.BEFORE_USE, InspectionKind.INTERIM):
        book.inspecting.record(passed(book, rope, kind), {"inspected_on": "2025-05-31", "inspector": "AB"})
    assert book.gear.card(rope.id).due.state == "never-examined"
    assert book.gear.card(rope.id).status is Status.IN_SERVICE


def test_the_inspectors_date_is_not_later_than_the_rules(book: Book, rope: Item, faults: Faults) -> None:
    sheet = passed(book, rope)
    told = faults(lambda: book.inspecting.record(sheet, WHO | {"next_due_on": "2026-05-31"}))
    assert "2025-11-30" in told["next_due_on"]
    book.schedule.choose(["europe-fall-protection"])
    book.inspecting.record(sheet, WHO | {"next_due_on": "2026-05-31"})
    assert book.gear.card(rope.id).due.due_on == date(2026, 5, 31)


def test_a_finding_that_stops_keeps_it_out_of_service_until_a_release_says_how_it_was_resolved(
    book: Book, rope: Item, faults: Faults
) -> None:
    sheet = passed(book, rope)
    found = book.inspecting.finding(
        sheet, {"severity": "stop", "words": "two cut strands", "at": "3.2 m"}, "hollow-cuts"
    )
    sheet = sheet.with_finding(found)
    assert sheet.ruled is Verdict.OUT_OF_SERVICE
    told = faults(lambda: book.inspecting.record(sheet, WHO | {"verdict": "fit", "verdict_reason": "looks fine"}))
    assert set(told) == {"verdict"}
    book.inspecting.record(sheet, WHO)
    card = book.gear.card(rope.id)
    assert (card.status, [row.open for row in card.findings]) == (Status.QUARANTINED, [True])
    assert "two cut strands" in card.due.reason
    plan = book.planner.plan(book.planner.form_for(rope.id, "A") | {"method": "hollow-eye", "eye": "150 mm"})
    assert "two cut strands" in " ".join(check.message for check in plan.checks) or plan.stopped
    book.inspecting.record(passed(book, rope), WHO)  # a later pass alone frees nothing
    assert book.gear.card(rope.id).status is Status.QUARANTINED
    plain = {"kind": "released", "happened_on": "2025-06-01"}
    assert set(faults(lambda: book.gear.record_event(rope.id, plain))) == {"by"}
    early = {"happened_on": "2025-05-30", "by": "AB", "notes": "cut off"}
    assert set(faults(lambda: book.standing.decide(rope.id, EventKind.RELEASED, early))) == {"happened_on"}
    book.standing.decide(rope.id, EventKind.RELEASED, early | {"happened_on": "2025-06-01"})
    card = book.gear.card(rope.id)
    assert (card.status, [row.open for row in card.findings]) == (Status.IN_SERVICE, [False])
    release = next(event for event in card.events if event.kind is EventKind.RELEASED)
    book.gear.strike(release.id, "not looked at")
    assert book.gear.card(rope.id).status is Status.QUARANTINED


def test_a_milder_verdict_needs_a_reason_and_a_stricter_one_none(book: Book, rope: Item, faults: Faults) -> None:
    sheet = passed(book, rope)
    failed = sheet.answer("rope-dirt", Mark.FAIL, "grit")
    assert set(faults(lambda: book.inspecting.record(failed, WHO | {"verdict": "watch"}))) == {"verdict_reason"}
    made = book.inspecting.record(failed, WHO | {"verdict": "watch", "verdict_reason": "washed and looked at again"})
    assert (made.ruled, made.verdict) == (Verdict.OUT_OF_SERVICE, Verdict.WATCH)
    assert book.gear.card(rope.id).status is Status.IN_SERVICE
    book.inspecting.record(sheet, WHO | {"verdict": "retire"})
    assert book.gear.card(rope.id).status is Status.RETIRED
    assert any("destruction is not noted" in note for note in book.gear.card(rope.id).notes)
    assert [row.tag for row in book.lists.today().undestroyed] == [rope.tag]


def test_a_struck_inspection_counts_for_nothing_and_stays(book: Book, rope: Item, faults: Faults) -> None:
    made = book.inspecting.record(passed(book, rope).answer("past", Mark.FAIL, "fell"), WHO)
    assert book.gear.card(rope.id).status is Status.QUARANTINED
    assert set(faults(lambda: book.inspecting.strike(made.id, " "))) == {"struck_because"}
    derived = next(event for event in book.gear.card(rope.id).events if event.kind is EventKind.QUARANTINED)
    with pytest.raises(NotFoundError, match="inspection"):
        book.gear.strike(derived.id, "why")
    book.inspecting.strike(made.id, "other rope")
    card = book.gear.card(rope.id)
    assert (card.status, card.due.state) == (Status.IN_SERVICE, "never-examined")
    assert [one.struck_because for one in card.inspections] == ["other rope"]


def test_a_sheet_goes_into_a_draft_and_comes_back(book: Book, rope: Item) -> None:
    sheet = book.inspecting.sheet(rope.id, THOROUGH).see("marking").answer("past", Mark.WATCH, "[/] \u202e, = \n")
    sheet = sheet.with_finding(book.inspecting.finding(sheet, {"severity": "note", "words": "x", "at": "1/2 in"}))
    draft = sheet.draft()
    assert kept_in(draft) == (rope.id, THOROUGH)
    assert book.inspecting.sheet(rope.id, THOROUGH, draft) == sheet
    assert book.inspecting.sheet(rope.id, InspectionKind.INTERIM, draft).answers == {}
    for damaged in ({}, {"sheet": ""}, {"sheet": "{"}, {"sheet": '{"item_id": 3}'}):
        assert book.inspecting.sheet(rope.id, THOROUGH, damaged).answers == {}


def test_a_spliced_end_is_asked_for_and_named(book: Book, rope: Item, plan: Plan) -> None:
    keys = {line.key for line in book.inspecting.sheet(rope.id, THOROUGH).lines}
    assert not any("@" in key for key in keys)
    book.diary.record(made_form(book, plan) | {"made_on": "2025-05-01", "end": "A"}, plan)
    keys = {line.key for line in book.inspecting.sheet(rope.id, THOROUGH).lines}
    assert "splice-throat@A" in keys
    with pytest.raises(NotFoundError):
        book.inspecting.sheet(rope.id, THOROUGH).see("splice-throat@B")


@pytest.mark.parametrize(
    ("form", "field"),
    [
        ({"at": "45.1 m"}, "at"),
        ({"at": "44 m", "until": "46 m"}, "until"),
        ({"at": "3 m", "until": "2 m"}, "until"),
        ({"until": "2 m"}, "until"),
        ({"words": " "}, "words"),
        ({"severity": "dreadful"}, "severity"),
        ({"at": "12 kN"}, "at"),
    ],
)
def test_a_finding_that_cannot_be_is_refused(
    book: Book, rope: Item, faults: Faults, form: dict[str, str], field: str
) -> None:
    sheet = book.inspecting.sheet(rope.id, THOROUGH)
    good = {"severity": "watch", "words": "fuzz"}
    assert set(faults(lambda: book.inspecting.finding(sheet, good | form))) == {field}
    assert book.inspecting.finding(sheet, good | {"at": "45 m"}).at is not None
    assert field_fault(FINDING_FORM, "at", "0 m") is None


def test_what_is_not_there_is_not_inspected(book: Book, faults: Faults) -> None:
    helmet = book.gear.add({"name": "helmet", "category": "helmet"})
    told = faults(lambda: book.inspecting.finding(
        book.inspecting.sheet(helmet.id, THOROUGH), {"severity": "note", "words": "x", "at": "1 m"}))  # fmt: skip
    assert set(told) == {"at"}
    book.gear.record_event(helmet.id, {"kind": "lost", "happened_on": "2025-05-01"})
    assert "found" in faults(lambda: book.inspecting.sheet(helmet.id, THOROUGH))["item"]


def test_the_competence_of_the_user_is_remembered_from_their_last_inspection(book: Book, rope: Item) -> None:
    book.keep(user="AB")
    assert book.inspecting.form_for(rope.id, THOROUGH)["competence"] == ""
    book.inspecting.record(passed(book, rope), WHO | {"independent": "yes"})
    form = book.inspecting.form_for(rope.id, THOROUGH)
    assert (form["inspector"], form["competence"], form["independent"]) == ("AB", "course 2024", "yes")


@pytest.mark.parametrize(
    ("severity", "before", "after"),
    [
        ("note", None, None),
        ("note", Mark.PASS, Mark.PASS),
        ("watch", None, Mark.WATCH),
        ("watch", Mark.PASS, Mark.WATCH),
        ("watch", Mark.FAIL, Mark.FAIL),
        ("stop", None, Mark.FAIL),
        ("stop", Mark.WATCH, Mark.FAIL),
        ("stop", Mark.NOT_APPLICABLE, Mark.FAIL),
    ],
)
def test_a_line_under_which_something_was_found_does_not_pass(
    book: Book, rope: Item, severity: str, before: Mark | None, after: Mark | None
) -> None:
    sheet = book.inspecting.sheet(rope.id, THOROUGH)
    if before is not None:
        sheet = sheet.answer("rope-heat", before, "as I saw it")
    found = book.inspecting.finding(sheet, {"severity": severity, "words": "a shiny place"}, "rope-heat")
    given = sheet.with_finding(found).answers.get("rope-heat")
    assert (given.mark if given else None) is after
    assert given is None or given.words == ("as I saw it" if before else "")
    elsewhere = book.inspecting.finding(sheet, {"severity": "stop", "words": "a smell"}, "")
    assert sheet.with_finding(elsewhere).answers == sheet.answers


def test_a_line_is_not_said_to_pass_over_what_stops(book: Book, rope: Item, faults: Faults) -> None:
    sheet = passed(book, rope)
    found = book.inspecting.finding(sheet, {"severity": "stop", "words": "two cut strands"}, "hollow-cuts")
    told = faults(lambda: book.inspecting.record(sheet.with_finding(found).answer("hollow-cuts", Mark.PASS), WHO))
    assert "Cut or broken strands" in told["answers"]
    book.inspecting.record(sheet.with_finding(found), WHO)


def test_what_was_measured_from_the_throat_lies_that_much_further_from_the_very_end(
    book: Book, rope: Item, plan: Plan, faults: Faults
) -> None:
    sheet = book.inspecting.sheet(rope.id, THOROUGH)
    form = {"severity": "watch", "words": "fuzz", "measured_from": "throat", "at": "1 m", "until": "1.5 m"}
    assert set(faults(lambda: book.inspecting.finding(sheet, form))) == {"measured_from"}  # no splice stands there yet
    book.diary.record(made_form(book, plan), plan)
    found = book.inspecting.finding(sheet, form)  # 0.804 m of rope lie in the splice
    assert (str(found.at), str(found.until)) == ("1.804 m", "2.304 m")
    far = form | {"at": "44.5 m", "until": ""}
    assert set(faults(lambda: book.inspecting.finding(sheet, far))) == {"at"}  # beyond end B
    assert str(book.inspecting.finding(sheet, form | {"measured_from": "end"}).at) == "1 m"


def test_a_splice_made_later_moves_no_finding_and_a_cut_at_its_end_moves_each(
    book: Book, rope: Item, plan: Plan
) -> None:
    sheet = passed(book, rope)
    found = book.inspecting.finding(sheet, {"severity": "note", "words": "resin", "at": "12 m"})
    book.inspecting.record(sheet.with_finding(found), WHO)
    book.diary.record(made_form(book, plan) | {"made_on": "2025-06-01"}, plan)
    assert [row.from_m for row in book.gear.card(rope.id).findings] == [12]
    form = {"cut_as": "end", "cut_end": "A", "from_throat": "0.196 m", "happened_on": "2025-06-01"}
    book.gear.cut(rope.id, form)  # 0.804 m of the splice and 0.196 m beyond it
    assert [row.from_m for row in book.gear.card(rope.id).findings] == [11]


def test_photos_of_findings_are_copied_into_the_log(tmp_path: Path, faults: Faults) -> None:
    photo = tmp_path / "cut.jpg"
    photo.write_bytes(b"a picture of a cut")
    name = f"{hashlib.sha256(b'a picture of a cut').hexdigest()}.jpg"
    with open_book(tmp_path / "log", today=lambda: date(2025, 6, 1)) as book:
        item = book.gear.add({"name": "sling", "category": "sling"})
        sheet = passed(book, item)
        form = {"severity": "stop", "words": "a cut", "photos": str(photo)}
        found = book.inspecting.finding(sheet, form, "web-cuts")
        photo.unlink()
        assert found.photos == (name,)
        kept = book.inspecting.finding(sheet, form | {"photos": name, "words": "a cut of 3 mm"}, "web-cuts")
        assert kept.photos == (name,), "what is kept already is not looked for where it was taken"
        assert "is not a file" in faults(lambda: book.inspecting.finding(sheet, form))["photos"]
        missing = WHO | {"photos": str(tmp_path / "gone.png")}
        assert "is not a file" in faults(lambda: book.inspecting.record(sheet.with_finding(found), missing))["photos"]
        made = book.inspecting.record(sheet.with_finding(found), WHO)
        assert made.findings[0].photos == (name,)
        assert (tmp_path / "log" / "photos" / name).read_bytes() == b"a picture of a cut"
        assert book.diary.photo_command(name)[-1].endswith(name)
