"""Recall over twenty thousand splices, as a ratio to one pass over the list, in the worst case: all of them match.

Run: pytest -s tests/bench/bench_recall.py
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.item import Item, RopeFacts
from gearlog.domain.plan import Plan, PlanInputs, RopeSpec, Strength
from gearlog.domain.recalled import Query, Recall
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import FailedAt, LoadKind, StrengthTest
from gearlog.domain.vocabulary import Category, Condition, Difficulty, End, Outcome
from gearlog.recall import Columns, recall
from gearlog.storage.loading import quiet
from gearlog.units.measure import Force, Length
from tests.bench.floors import best_ms, ratio

SPLICES, ROPES, ROUNDS = 20_000, 500, 15
LIMIT_MS = 50.0
START = datetime(2020, 1, 1, tzinfo=UTC)
ASKED = Query(construction="hollow-braid", method="hollow-eye", diameter_m=0.012, fibre="polyester",
              condition=Condition.NEW, eye_m=0.15)  # fmt: skip


def ropes() -> dict[str, Item]:
    facts = RopeFacts(construction="hollow-braid", cover_fibre="polyester", diameter=Length.read("12 mm"))
    return {
        f"r{number}": Item(id=f"r{number}", created_at=START, changed_at=START, tag=f"r{number}", name=f"rope {number}",
                           category=Category.LIFELINE, rope=facts)
        for number in range(ROPES)
    }  # fmt: skip


def splices() -> list[Splice]:
    """Every one measured, timed, with tools, difficulties and words; eyes from 100 to 199 mm."""
    strength = Strength(mbs_n=None, retained_fraction=None, retained_source=None, design_factor=10,
                        design_factor_source="", wll_n=None)  # fmt: skip
    rope = RopeSpec(construction="hollow-braid", diameter_m=0.012)
    plans = [
        Plan(method="hollow-eye", method_title="", method_version=1, own=False, rope_used_m=None, strength=strength,
             inputs=PlanInputs(method="hollow-eye", rope=rope, eye_m=0.1 + number / 1000))
        for number in range(100)
    ]  # fmt: skip
    outcomes, difficulties = tuple(Outcome), tuple(Difficulty)
    return [
        Splice(
            id=f"s{number}", created_at=START + timedelta(hours=number), changed_at=START, rope_id=f"r{number % ROPES}",
            end=End.A, method="hollow-eye", plan=plans[number % 100], minutes=20 + number % 90,
            made_on=PartialDate.of((START + timedelta(hours=number)).date()),
            finished_eye=Length.read(f"{98 + number % 103} mm"), outcome=outcomes[number % len(outcomes)],
            tools=("wire fid", f"tape {number % 7}"), difficulties=(difficulties[number % len(difficulties)],),
            notes=f"words {number % 50}",
        )
        for number in range(SPLICES)
    ]  # fmt: skip


def broken_of(made: list[Splice]) -> dict[str, tuple[StrengthTest, ...]]:
    """A break of every hundredth."""
    return {
        splice.id: (
            StrengthTest(id=f"t{splice.id}", created_at=START, changed_at=START, splice_id=splice.id,
                         kind=LoadKind.BREAK, force=Force.read(f"{20 + number % 7} kN"), failed_at=FailedAt.THROAT,
                         tested_on=splice.made_on),
        )
        for number, splice in enumerate(made[::100])
    }  # fmt: skip


def test_recall_over_twenty_thousand_splices_answers_while_one_types() -> None:
    items, made = ropes(), splices()
    tested = broken_of(made)
    columns = Columns(made)

    def answer(query: Query) -> Recall:
        return recall(query, columns, items, tested)

    def columns_of(splices: list[Splice], before: Columns | None = None) -> Columns:
        with quiet():  # as the services make them
            return Columns(splices, before)

    assert answer(ASKED).summary.made == SPLICES
    pass_ms = best_ms(lambda: [splice for splice in made if splice.method == ASKED.method], ROUNDS)
    worst = best_ms(lambda: answer(ASKED), ROUNDS)
    without_eye = best_ms(lambda: answer(replace(ASKED, eye_m=None)), ROUNDS)
    here = best_ms(lambda: answer(replace(ASKED, rope_id="r7")), ROUNDS)
    fresh = best_ms(lambda: columns_of(made), ROUNDS)
    newer = [*made[:-1], replace(made[-1], minutes=1)]
    after_a_save = best_ms(lambda: recall(ASKED, columns_of(newer, columns), items, tested), ROUNDS)
    floor = f"one pass over {SPLICES:,} splices"
    print()
    for name, taken in (
        ("all match, eye asked for", worst),
        ("all match, no eye", without_eye),
        ("all match, one of their ropes", here),
        ("the same right after a save", after_a_save),
        ("columns made afresh, once a session", fresh),
    ):
        print(ratio(name, taken, floor, pass_ms))
    assert max(worst, without_eye, here, after_a_save) <= LIMIT_MS
