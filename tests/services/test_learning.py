"""What the diary teaches: the correction is offered when it can be told, taken on request, and it works."""

from __future__ import annotations

import random
import statistics

import pytest

from gearlog.domain.item import Item
from gearlog.domain.vocabulary import Unit
from gearlog.recall.bounds import mean_with_interval
from gearlog.services.book import Book
from gearlog.services.correcting import EYE as THE_EYE
from gearlog.services.correcting import SHORTENING
from tests.making import made_form
from tests.services.conftest import EYE, Faults

SPREAD_M = 0.003  # standard deviation of a splicer's eyes


def splice(book: Book, form: dict[str, str], bias_m: float, dice: random.Random) -> float:
    """Make one by the form's plan, its eye off by the bias and a chance; the finished eye (m)."""
    plan = book.planner.plan(form)
    marked = plan.inputs.marked_eye_m
    assert marked is not None
    finished = marked + dice.gauss(bias_m, SPREAD_M)
    book.diary.record(made_form(book, plan) | {"finished_eye": f"{finished * 1000:.1f} mm"}, plan)
    return finished


@pytest.mark.parametrize("bias_mm", [-9, -5, 6, 12])
@pytest.mark.parametrize("seed", range(3))
def test_the_correction_brings_the_mean_eye_to_within_its_interval_of_zero(
    book: Book, rope: Item, bias_mm: int, seed: int
) -> None:
    dice = random.Random(seed)  # noqa: S311 (an invented splicer, the same each time)
    form = book.planner.form_for(rope.id, "A") | EYE
    for _ in range(12):
        splice(book, form, bias_mm / 1000, dice)
    offer = book.learning.offer(form)
    assert offer.correction_m is not None
    assert offer.bias is not None
    corrected = book.learning.taken(form)
    after = [splice(book, corrected, bias_mm / 1000, dice) - 0.150 for _ in range(12)]
    assert abs(statistics.fmean(after)) < abs(bias_mm / 1000) / 3
    reach = (offer.bias.high_m - offer.bias.low_m) / 2
    interval = mean_with_interval(after)
    assert interval is not None
    assert abs(interval.mean_m) <= reach + (interval.high_m - interval.low_m) / 2
    again = book.learning.offer(form)
    assert again.correction_m == pytest.approx(offer.correction_m, abs=0.003), "what was corrected is not learned away"


def test_a_taken_correction_is_said_and_can_be_given_back(book: Book, rope: Item) -> None:
    form = book.planner.form_for(rope.id, "A") | EYE
    plain = book.planner.plan(form)
    for eye in ("145 mm", "146 mm", "147 mm"):
        book.diary.record(made_form(book, plain) | {"finished_eye": eye}, plain)
    assert book.planner.plan(form).inputs.eye_correction_m == 0, "never without being asked"
    taken = book.learning.taken(form)
    because = (
        "3 like eyes came out 4 mm shorter than marked on average (95 % interval from 6 mm shorter to 2 mm shorter)"
    )
    assert taken["eye_correction"] == f"4 mm longer; {because}"
    assert book.learning.words(book.learning.offer(form)) == f"mark the eye 4 mm longer: {because}"
    plan = book.planner.plan(taken)
    assert plan.inputs.eye_correction_m == pytest.approx(0.004, abs=1e-12)
    assert any(because in check.message for check in plan.checks)
    loop = [mark.at_m for mark in plan.marks][2] - [mark.at_m for mark in plan.marks][1]
    assert loop == pytest.approx(2 * 0.154, abs=1e-12)
    assert book.planner.plan(book.learning.undone(taken)).marks == plain.marks


def test_an_inch_tape_takes_its_correction_in_sixty_fourths(book: Book, rope: Item) -> None:
    form = book.planner.form_for(rope.id, "A") | EYE
    plain = book.planner.plan(form)
    for eye in ("145 mm", "146 mm", "147 mm"):
        book.diary.record(made_form(book, plain) | {"finished_eye": eye}, plain)
    book.keep(unit=Unit.IMPERIAL)
    assert book.learning.taken(form)["eye_correction"].startswith("5/32 in longer; ")


@pytest.mark.parametrize(
    ("eyes", "reason"),
    [
        ([], "too few eyes were measured against a plan: 0"),
        (["145 mm", "145 mm"], "too few eyes were measured against a plan: 2"),
        (["145 mm", "150 mm", "155 mm"], "the mean of 3 eyes cannot be told from none"),
        (["148 mm", "146 mm", "144 mm"], "the mean of 3 eyes cannot be told from none"),  # all of them are short
        (["150 mm", "150 mm", "150 mm"], "the mean of 3 eyes cannot be told from none"),
    ],
)
def test_nothing_is_offered_where_nothing_can_be_told(
    book: Book, rope: Item, faults: Faults, eyes: list[str], reason: str
) -> None:
    form = book.planner.form_for(rope.id, "A") | EYE
    plan = book.planner.plan(form)
    for eye in eyes:
        book.diary.record(made_form(book, plan) | {"finished_eye": eye}, plan)
    offer = book.learning.offer(form)
    assert offer.correction_m is None
    assert reason in book.learning.words(offer)
    assert "too long" not in book.learning.words(offer), "three that are short are not said to be long as well"
    assert set(faults(lambda: book.learning.taken(form))) == {"eye_correction"}


def test_the_learned_shortening_is_offered_taken_and_given_back_by_itself(book: Book, rope: Item) -> None:
    form = book.planner.form_for(rope.id, "A") | EYE | {"finished": "3 m"}
    plain = book.planner.plan(form)
    assert plain.shortening is not None
    for length, finished_eye in (("2989 mm", "145 mm"), ("2988 mm", "146 mm"), ("2987 mm", "147 mm")):
        book.diary.record(made_form(book, plain) | {"finished_length": length, "finished_eye": finished_eye}, plain)
    eye, shortening = book.learning.suggestions(form)
    assert (eye.of, eye.movable, shortening.of, shortening.movable) == (THE_EYE, True, SHORTENING, True)
    because = (
        "3 like splices shortened 12 mm more than reckoned on average (95 % interval from 10 mm more to 14 mm more)"
    )
    assert shortening.words == f"reckon with 12 mm more shortening: {because}"
    taken = book.learning.taken(form, SHORTENING)
    assert (taken["shortening_correction"], taken["eye_correction"]) == (f"12 mm more; {because}", "")
    plan = book.planner.plan(taken)
    assert plan.shortening is not None
    assert plan.shortening.length_m - plain.shortening.length_m == pytest.approx(0.012, abs=1e-12)
    assert any(because in check.message for check in plan.checks)
    assert book.learning.suggestions(taken)[1].taken == f"12 mm more; {because}"
    assert book.learning.suggestions(taken)[1].offer == shortening.offer, "what was taken is not learned away"
    again = book.planner.plan(book.learning.undone(taken, SHORTENING))
    assert (again.inputs, again.shortening, again.marks) == (plain.inputs, plain.shortening, plain.marks)
    assert [one.of for one in book.learning.suggestions(form | {"method": "lock-stitch"})] == [THE_EYE]


def test_too_few_finished_lengths_offer_no_shortening(book: Book, rope: Item, faults: Faults) -> None:
    form = book.planner.form_for(rope.id, "A") | EYE | {"finished": "3 m"}
    plan = book.planner.plan(form)
    for length in ("2989 mm", "2988 mm"):
        book.diary.record(made_form(book, plan) | {"finished_length": length}, plan)
    told = book.learning.suggestions(form)[1]
    assert not told.movable
    assert told.words == "too few finished lengths were measured against a plan: 2, at least 3 are needed"
    assert set(faults(lambda: book.learning.taken(form, SHORTENING))) == {"shortening_correction"}


@pytest.mark.parametrize("typed", ["4 mm", "4 longer", "-4 mm longer", "longer", "80 mm longer", "4 mm wider"])
def test_a_correction_that_cannot_be_is_refused(book: Book, rope: Item, faults: Faults, typed: str) -> None:
    form = book.planner.form_for(rope.id, "A") | EYE | {"eye_correction": typed}
    assert set(faults(lambda: book.planner.plan(form))) == {"eye_correction"}


@pytest.mark.parametrize(
    ("typed", "metres", "words"),
    [("4 mm shorter", -0.004, "typed by hand"), ("1/4 in longer; thimble", 0.00635, "thimble"), ("0 mm longer", 0, "")],
)
def test_a_correction_may_be_typed_by_hand(book: Book, rope: Item, typed: str, metres: float, words: str) -> None:
    inputs = book.planner.inputs(book.planner.form_for(rope.id, "A") | EYE | {"eye_correction": typed})
    assert inputs.eye_correction_m == pytest.approx(metres, abs=1e-12)
    assert inputs.correction_words == words


def test_once_the_rest_is_read_the_first_question_finds_the_diary_ready(
    book: Book, rope: Item, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first question of a session made all columns while somebody waited; now they are made behind their back."""
    form = book.planner.form_for(rope.id, "A") | EYE
    splice(book, form, 0.0, random.Random(1))  # noqa: S311 (an invented splicer)
    book.read_rest()
    monkeypatch.setattr("gearlog.recall.Columns", None)
    assert len(book.planner.recall_for(form).matches) == 1
