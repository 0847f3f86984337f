"""The demo log: the same bytes for the same day, a crew that could be, and a log that any reader takes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from statistics import fmean, stdev

import pytest

from gearlog.devtools import demo
from gearlog.domain.inspection import Verdict
from gearlog.domain.strength_test import FailedAt, LoadKind
from gearlog.domain.vocabulary import Outcome, Status
from gearlog.services.book import Book, open_book, open_sample

ROOT = Path(__file__).resolve().parents[2]
DAY = date(2026, 11, 1)
MAKE_IT_ANEW = "make it anew: python -m gearlog.devtools.demo --date 2026-11-01 --out sample_data/demo"


@pytest.fixture(scope="module")
def book() -> Iterator[Book]:
    with open_sample(today=lambda: DAY) as opened:
        yield opened


def test_the_committed_demo_is_what_the_generator_makes(tmp_path: Path) -> None:
    demo.main(["--date", DAY.isoformat(), "--out", str(tmp_path)])
    for name in (*demo.KEPT, demo.ANCHOR):
        assert (tmp_path / name).read_bytes() == (ROOT / "sample_data" / "demo" / name).read_bytes(), MAKE_IT_ANEW


def test_another_day_gives_the_same_crew_with_its_dates_moved(tmp_path: Path, book: Book) -> None:
    demo.main(["--date", "2030-02-28", "--out", str(tmp_path / "demo")])
    with open_book(tmp_path / "demo", today=lambda: date(2030, 2, 28)) as moved:
        assert [row.tag for row in moved.gear.rows()] == [row.tag for row in book.gear.rows()]
        assert [row.tag for row in moved.lists.today().overdue] == [row.tag for row in book.lists.today().overdue]


def test_the_crew_has_the_kit_of_two_years(book: Book) -> None:
    rows = book.gear.rows()
    ropes = [row for row in rows if row.item.rope is not None]
    assert len(ropes) >= 25
    assert len(rows) - len(ropes) == 30
    assert {row.item.rope.construction for row in ropes if row.item.rope} == {
        *("three-strand", "hollow-braid", "cover-loaded", "double-braid", "kernmantle")
    }
    assert {Status.IN_SERVICE, Status.QUARANTINED, Status.RETIRED} <= {row.status for row in rows}
    today = book.lists.today()
    assert today.overdue
    assert today.due_soon
    spool = book.gear.by_tag("spool-1")
    assert len(book.gear.card(spool.id).children) == 2


def test_the_crew_made_forty_five_splices_with_plans_and_measurements(book: Book) -> None:
    splices = [row.splice for row in book.diary.rows() if row.outcome is not Outcome.GIVEN_UP]
    assert len(splices) == 45
    assert all(splice.plan is not None and splice.measured and splice.minutes for splice in splices)
    off = [abs(s.finished_eye.si - (s.plan.inputs.eye_m or 0)) for s in splices if s.finished_eye and s.plan]
    assert len(off) == 45
    assert max(off) < 0.016
    outcomes = Counter(splice.outcome for splice in splices)
    assert outcomes[Outcome.GOOD] > outcomes[Outcome.REMARK] > 0
    assert outcomes[Outcome.REMADE] == 2


def test_the_crew_broke_five_eyes_of_one_kind_and_held_one_to_a_proof_load(book: Book) -> None:
    strop = book.gear.by_tag("strop-1")
    found = book.planner.recall_for(book.planner.form_for(strop.id, "A") | {"method": "hollow-eye"}).strength
    assert found is not None
    assert found.n == 5
    assert {one.word for one in found.failed_at} == {"end of the bury", "in the bury", "throat"}
    forces = [test.force.si for test in found.tests]
    bound = fmean(forces) - 4.203 * stdev(forces)  # the published factor for five, coverage and confidence 95 %
    assert found.lower_n == pytest.approx(bound, rel=1e-3)
    winch = book.gear.by_tag("winch-1")
    tests = [test for row in book.diary.rows_of(winch.id) for test in book.strength.of(row.splice.id)]
    assert [(test.kind, test.failed_at) for test in tests] == [(LoadKind.PROOF, FailedAt.NOWHERE)]
    pieces = [book.gear.card(book.gear.by_tag(f"test-{number}").id) for number in (1, 2, 3)]
    assert {piece.status for piece in pieces} == {Status.DESTROYED}


def test_one_splice_was_given_up_and_one_lies_at_the_bench(book: Book) -> None:
    (given_up,) = [row.splice for row in book.diary.rows() if row.outcome is Outcome.GIVEN_UP]
    assert given_up.notes.startswith("given up at step 6 of 10: core would not follow")
    (view,) = book.bench.open_views()
    assert (view.tag, view.end, view.number, view.total_s) == ("rig-2", "B", 4, 15 * 60)
    assert [step.remark for step in view.steps if step.remark]


def test_the_last_examination_of_all_but_five_is_a_record_with_its_findings(book: Book) -> None:
    """Five were noted by their day alone, and the audit says so; the others tell who, why, what and what follows."""
    audit = book.auditing.audit(book.auditing.wanted(book.auditing.blank_form()))
    gaps = Counter(gap for item in audit.items for gap in item.gaps)
    assert gaps["last examination: no reason, result, findings"] == 5
    thorough = [one for row in book.gear.rows() for one in book.inspecting.of(row.item.id) if one.kind == "thorough"]
    assert len(thorough) == 51
    assert all(one.competence and one.independent == "yes" and one.next_due_on and one.answers for one in thorough)
    assert {one.verdict for one in thorough} == {Verdict.FIT, Verdict.WATCH}
    assert len([one for one in thorough if one.findings]) == 8


def test_no_plan_of_the_crew_was_forbidden(book: Book) -> None:
    assert [row.tag for row in book.diary.rows() if row.splice.plan is None or row.splice.plan.stopped] == []
