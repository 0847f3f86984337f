"""The bench by its service: every press is kept, the clock is honest, a measure is told what it means."""

from __future__ import annotations

from pathlib import Path

import pytest

from gearlog.domain.bench import Bench, BenchState
from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import End, EndState, Outcome
from gearlog.errors import InvalidRecordError, NotFoundError, StorageError
from gearlog.services.bench import Benches
from gearlog.services.bench_clock import IDLE_S
from gearlog.services.bench_views import BenchView
from gearlog.services.book import Book, open_book
from tests.making import GOOD
from tests.services.conftest import EYE, HOLLOW, TODAY, Faults


class Seconds:
    """A clock that only moves when it is told to."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now

    def pass_by(self, seconds: float) -> None:
        self.now += seconds


@pytest.fixture
def seconds(book: Book) -> Seconds:
    clock = Seconds()
    book.bench.clock.seconds = clock
    return clock


@pytest.fixture
def bench(book: Book, seconds: Seconds) -> Benches:
    return book.bench


@pytest.fixture
def begun(bench: Benches, plan: Plan) -> BenchView:
    return bench.start(plan)


def test_a_plan_is_followed_step_by_step_and_back(bench: Benches, plan: Plan, begun: BenchView) -> None:
    assert (begun.number, begun.count, begun.end, begun.step) == (1, len(plan.guide), "A", plan.guide[0])
    seen = [begun]
    while not seen[-1].at_end:
        seen.append(bench.done(begun.id))
    assert [view.step for view in seen] == [*plan.guide, None]
    assert [mark.id for mark in seen[1].marks] == list(plan.guide[1].marks)
    assert bench.done(begun.id).number == begun.count + 1
    assert bench.back(begun.id).step == plan.guide[-1]
    for _ in range(begun.count + 3):
        back = bench.back(begun.id)
    assert back.step == plan.guide[0]


def test_the_clock_counts_each_step_and_not_the_pauses(bench: Benches, seconds: Seconds, begun: BenchView) -> None:
    seconds.pass_by(60)
    assert bench.done(begun.id).clock == "running"
    seconds.pass_by(30)
    assert bench.pause(begun.id).clock == "paused"
    seconds.pass_by(4000)
    assert (bench.view(begun.id).step_s, bench.view(begun.id).total_s) == (30, 90)
    bench.resume(begun.id)
    seconds.pass_by(15)
    assert bench.view(begun.id).step_s == 45
    assert [step.seconds for step in bench.done(begun.id).steps[:3]] == [60, 45, 0]
    seconds.pass_by(5)
    bench.back(begun.id)
    assert [step.seconds for step in bench.view(begun.id).steps[:3]] == [60, 45, 5]


def test_without_a_key_the_clock_stands_and_the_time_counts_only_on_request(
    bench: Benches, seconds: Seconds, begun: BenchView
) -> None:
    seconds.pass_by(IDLE_S)
    assert bench.view(begun.id).clock == "running"
    seconds.pass_by(500)
    assert (bench.view(begun.id).clock, bench.view(begun.id).step_s) == ("idle", IDLE_S)
    after = bench.done(begun.id)
    assert (after.clock, after.away_s, after.steps[0].seconds) == ("running", 500, IDLE_S)
    counted = bench.count_away(begun.id)
    assert (counted.away_s, counted.steps[0].seconds, counted.steps[1].seconds) == (0, IDLE_S + 500, 0)
    assert bench.count_away(begun.id).steps[0].seconds == IDLE_S + 500, "it is counted once"


def test_a_warning_is_told_again_at_the_step_where_it_bites(book: Book, bench: Benches) -> None:
    """Read once at the first step, it is long forgotten when the braid is opened or the stitch is set."""
    slick = book.gear.add(HOLLOW | {"name": "slick line", "cover_fibre": "hmpe"})
    typed = EYE | {"condition": "used", "fid": "600 mm", "fid_thickness": "11 mm"}
    plan = book.planner.plan(book.planner.form_for(slick.id, "A") | typed)
    messages = {check.code: check.message for check in plan.checks if check.level != "note"}
    assert {"used-rope", "slippery-fibre", "tool-too-thick"} <= set(messages)
    view = bench.start(plan)
    assert set(view.warnings) == set(messages.values())
    told: dict[str, str] = {}
    while not (view := bench.done(view.id)).at_end:
        assert view.step is not None
        told |= dict.fromkeys(view.warnings, view.step.text)
    assert set(view.warnings) == set(messages.values())
    assert "Open the braid" in told[messages["used-rope"]]
    assert "draw the tail in" in told[messages["tool-too-thick"]]
    assert "Lock stitch" in told[messages["slippery-fibre"]]


def test_any_key_says_that_somebody_is_there(bench: Benches, seconds: Seconds, begun: BenchView) -> None:
    for _ in range(5):
        seconds.pass_by(IDLE_S - 1)
        bench.key(begun.id)
    assert bench.view(begun.id).step_s == 5 * (IDLE_S - 1)
    version = bench.open_views()
    seconds.pass_by(IDLE_S + 7)
    bench.key(begun.id)
    assert (bench.view(begun.id).away_s, version[0].away_s) == (7, 0)


def test_what_ran_is_saved_when_the_bench_is_left(bench: Benches, seconds: Seconds, begun: BenchView) -> None:
    seconds.pass_by(42)
    bench.leave(begun.id)
    seconds.pass_by(9000)
    left = bench.view(begun.id)
    assert (left.clock, left.step_s) == ("stopped", 42)
    assert bench.enter(begun.id).clock == "running"
    seconds.pass_by(3)
    assert bench.view(begun.id).step_s == 45


@pytest.mark.parametrize(
    ("what", "text", "within", "words"),
    [
        ("1", "504 mm", True, "mark b, throat on the tail: 504 mm, planned 504 mm, just as planned: within the 6 mm"),
        ("1", "510", True, "510 mm, planned 504 mm, 6 mm long: within the 6 mm that the method allows."),
        ("1", "511 mm", False, "7 mm long: more than the 6 mm that the method allows. The mark lies further from"),
        ("1", "19 1/2 in", False, "19 1/2 in, planned 504 mm, 9 mm short: more than the 6 mm"),
        ("taper", "0", False, "nearer to the end than planned"),
        ("eye", "143.5", False, "finished eye: 143.5 mm, planned 150 mm, 7 mm short: more than"),
        ("eye", "156 mm", True, "6 mm long: within the 6 mm"),
    ],
)
def test_a_measure_is_told_what_it_means(
    bench: Benches, begun: BenchView, what: str, text: str, within: bool, words: str
) -> None:
    verdict = bench.measure(begun.id, what, text)
    assert words in verdict.words
    assert verdict.within is within
    assert verdict.source


def test_a_bare_number_is_in_inches_on_an_inch_tape(book: Book, rope: Item) -> None:
    from gearlog.domain.vocabulary import Unit

    book.keep(unit=Unit.IMPERIAL)
    plan = book.planner.plan(book.planner.form_for(rope.id, "B") | EYE)
    begun = book.bench.start(plan)
    verdict = book.bench.measure(begun.id, "1", "19 7/8")
    assert verdict.measured.text == "19 7/8 in"
    assert "planned 19 7/8 in, just as planned" in verdict.words or verdict.within


@pytest.mark.parametrize(("what", "text"), [("9", "1 mm"), ("1", "a bit"), ("1", ""), ("eye", "0"), ("1", "5 kN")])
def test_what_cannot_be_measured_is_refused_and_nothing_is_saved(
    bench: Benches, begun: BenchView, what: str, text: str
) -> None:
    with pytest.raises(InvalidRecordError):
        bench.measure(begun.id, what, text)
    assert all(one.verdict is None for one in bench.view(begun.id).measurable)


def test_the_record_is_filled_in_and_saved_with_the_end_of_the_work(
    book: Book, rope: Item, seconds: Seconds, bench: Benches, begun: BenchView, plan: Plan
) -> None:
    bench.measure(begun.id, "1", "500 mm")
    bench.measure(begun.id, "1", "503 mm")
    seconds.pass_by(100)
    bench.remark(begun.id, "tape slipped [/]")
    bench.done(begun.id)
    bench.measure(begun.id, "eye", "149 mm")
    while not bench.view(begun.id).at_end:
        seconds.pass_by(100)
        bench.done(begun.id)
    form = bench.finish_form(begun.id)
    minutes = -(-100 * len(plan.guide) // 60)
    filled = {name: form[name] for name in ("measured.1", "finished_eye", "minutes", "notes", "end", "outcome")}
    assert filled == {
        "measured.1": "503 mm", "finished_eye": "149 mm", "minutes": str(minutes), "end": "A", "outcome": "",
        "notes": "step 1: tape slipped [/]",
    }  # fmt: skip
    made = bench.finish(begun.id, form | GOOD | {"difficulties": "stiff rope"})
    assert (made.plan, made.minutes, made.outcome) == (plan, minutes, Outcome.GOOD)
    closed = bench.view(begun.id)
    assert (closed.state, closed.splice_id, closed.plan) == (BenchState.FINISHED, made.id, plan)
    assert bench.open_views() == ()
    with pytest.raises(InvalidRecordError):
        bench.done(begun.id)
    assert book.undo() == f"record a splice in {rope.tag}"
    assert (book.diary.rows(), bench.view(begun.id).state) == ((), BenchState.OPEN), "one change takes back both"


def test_what_could_not_be_saved_is_not_forgotten_by_the_clock(
    book: Book, bench: Benches, seconds: Seconds, begun: BenchView, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_records: object, label: str) -> None:
        raise StorageError(f"not saved: {label}")

    seconds.pass_by(50)
    with monkeypatch.context() as patched:
        patched.setattr(book._store, "save", full)
        with pytest.raises(StorageError):
            bench.done(begun.id)
    assert (bench.view(begun.id).number, bench.view(begun.id).step_s) == (1, 50)
    assert bench.done(begun.id).steps[0].seconds == 50


def test_a_record_with_a_fault_leaves_the_bench_open(bench: Benches, begun: BenchView, faults: Faults) -> None:
    form = bench.finish_form(begun.id) | GOOD | {"ease": "9"}
    assert set(faults(lambda: bench.finish(begun.id, form))) == {"ease"}
    assert bench.view(begun.id).state is BenchState.OPEN


def test_a_splice_given_up_is_kept_in_the_diary_and_leaves_the_end_bare(
    book: Book, rope: Item, bench: Benches, begun: BenchView, faults: Faults
) -> None:
    bench.measure(begun.id, "1", "503 mm")
    bench.remark(begun.id, "slippery")
    bench.done(begun.id)
    assert set(faults(lambda: bench.give_up(begun.id, "  "))) == {"reason"}
    kept = bench.give_up(begun.id, "strand broke", cut_length="0.6 m")
    assert kept is not None
    (row,) = book.diary.rows()
    assert (row.splice, row.outcome) == (kept, Outcome.GIVEN_UP)
    assert kept.notes == "given up at step 2 of 8: strand broke\nstep 1: slippery"
    assert kept.measured[0].at.text == "503 mm"
    card = book.gear.card(rope.id)
    assert card.ends[End.A].state is EndState.BARE
    assert card.length_now_m == pytest.approx(44.4)
    assert bench.view(begun.id).state is BenchState.GIVEN_UP


def test_the_bench_refuses_what_must_not_be_made_and_two_splices_at_one_end(
    book: Book, rope: Item, plan: Plan, bench: Benches, begun: BenchView, faults: Faults
) -> None:
    assert set(faults(lambda: bench.start(plan))) == {"end"}
    found = bench.open_at(rope.id, "A")
    assert found is not None
    assert (found.id, bench.open_at(rope.id, "B")) == (begun.id, None)
    without = book.planner.plan(book.planner.form_for(rope.id) | EYE)
    assert set(faults(lambda: bench.start(without))) == {"end"}
    assert bench.start(without, end="B").end == "B"
    kernmantle = {"construction": "kernmantle", "diameter": "11 mm", "method": "hollow-eye", "eye": "150 mm"}
    assert set(faults(lambda: bench.start(book.planner.plan(kernmantle)))) == {"plan"}
    with pytest.raises(NotFoundError):
        bench.view("nothing")


def test_a_rope_that_is_in_no_log_can_be_spliced_too(book: Book, bench: Benches, faults: Faults) -> None:
    typed = {"construction": "hollow-braid", "strands": "12", "fibre": "polyester", "diameter": "12 mm"}
    begun = bench.start(book.planner.plan(typed | EYE))
    assert (begun.tag, begun.end) == ("", "")
    assert bench.give_up(begun.id, "rain") is None
    assert bench.view(begun.id).state is BenchState.GIVEN_UP
    assert book.diary.rows() == ()


def test_a_log_of_before_the_bench_opens_unchanged(tmp_path: Path) -> None:
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        rope = book.gear.add(HOLLOW)
        book.gear.record_event(rope.id, {"kind": "washed", "happened_on": "2025-05-01"})
    before = (tmp_path / "log" / "log.json").read_bytes()
    assert b"bench" not in before
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        assert (book.notices, book.bench.open_views()) == ((), ())
        assert len(book.gear.rows()) == 1
    assert (tmp_path / "log" / "log.json").read_bytes() == before


def test_a_press_saves_no_second_copy_of_the_plan(tmp_path: Path) -> None:
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        rope = book.gear.add(HOLLOW)
        begun = book.bench.start(book.planner.plan(book.planner.form_for(rope.id, "A") | EYE))
        journal = tmp_path / "log" / "log.journal"
        before = journal.stat().st_size
        book.bench.done(begun.id)
        assert journal.stat().st_size - before < 4000
        assert book.bench.finish(begun.id, book.bench.finish_form(begun.id) | GOOD).plan is not None
        store = book._store
        assert store.records(Bench)[0].plan is None
        assert store.records(Event) == ()
