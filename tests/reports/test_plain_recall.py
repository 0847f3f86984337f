from __future__ import annotations

from datetime import UTC, date, datetime
from types import SimpleNamespace
from typing import Any

import msgspec
import pytest

from gearlog.domain.dates import PartialDate
from gearlog.domain.item import Item
from gearlog.domain.plan import Plan, PlanInputs, RopeSpec, Strength
from gearlog.domain.recalled import Bias, Counted, Group, Match, Noted, Recall, StrengthFound, Summary
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import FailedAt, LoadKind, StrengthTest
from gearlog.domain.vocabulary import Category, Difficulty, End, Outcome, Status, label
from gearlog.reports.plain import due_lines, item_lines, recall_lines
from gearlog.reports.recalled_words import interval, outcomes, share
from gearlog.reports.tables import table_lines
from gearlog.reports.words import Tape
from gearlog.units.measure import Force, Length

NOON = datetime(2024, 5, 31, 12, tzinfo=UTC)
ROPE = Item(id="r", created_at=NOON, changed_at=NOON, tag="line-3", category=Category.LIFELINE, name="[/] line")
PLAN = Plan(
    method="hollow-eye", method_title="", method_version=1, own=False, rope_used_m=None,
    inputs=PlanInputs(method="hollow-eye", rope=RopeSpec(construction="hollow-braid", diameter_m=0.012), eye_m=0.15),
    strength=Strength(mbs_n=None, retained_fraction=None, retained_source=None, design_factor=10,
                      design_factor_source="", wll_n=None),
)  # fmt: skip


def splice(**facts: Any) -> Splice:
    usual: dict[str, Any] = {"end": End.A, "made_on": PartialDate.read("2024-05"), "plan": PLAN}
    return Splice(id="s", created_at=NOON, changed_at=NOON, rope_id="r", method="hollow-eye", **(usual | facts))


FULL = splice(
    outcome=Outcome.REMARK, minutes=45, finished_eye=Length.read("146 mm"), tools=("wire fid", "tape"),
    difficulties=(Difficulty.TAIL_STUCK,), difficulty_words="cold hands", notes="two\nlines",
)  # fmt: skip
BARE = splice(end=End.BETWEEN, position=Length.read("12 m"), plan=None)
SUMMARY = Summary(
    scope="1 in this rope, 2 in ropes all alike", made=3, good=2, with_remark=1, median_minutes=47.5, timed=2,
    tools=(Counted("wire fid", 2),), difficulties=(Counted("tail stuck", 1),),
    eye_bias=Bias(mean_m=-0.004, low_m=-0.01, high_m=0.002, n=3),
)  # fmt: skip
FOUND = Recall(
    matches=(
        Match(splice=FULL, rope=ROPE, score=400, why=("the same rope", "other condition: wet")),
        Match(splice=BARE, rope=None, score=200, why=("alike",)),
        Match(splice=BARE, rope=None, score=200, why=("alike",)),
    ),
    summary=SUMMARY,
    same_rope=Summary(scope="in this rope", made=1, good=0, with_remark=1),
)

BY_HAND = r"""
In this rope: 1 made (in this rope)
In this rope: 0 good, 1 usable with remark
In all like ropes: 3 made (1 in this rope, 2 in ropes all alike)
In all like ropes: 2 good, 1 usable with remark
In all like ropes: median 47.5 minutes, of 2 splices whose time was written down
In all like ropes: the finished eye came out 4 mm shorter than marked on average, 95 % interval from 10 mm shorter to 2 mm longer, n 3
In all like ropes: wire fid was used in 2 good
In all like ropes: tail stuck, met in 1
Match 1: made on 2024-05 in line-3 ([/] line), end A, by hollow-eye, usable with remark
Match 1, why: the same rope; other condition: wet
Match 1, id: s
Match 1, time: 45 minutes
Match 1, finished eye: 146 mm, planned 150 mm
Match 1, tools: wire fid, tape
Match 1, remarks: tail stuck; cold hands; two; lines
Match 2: made on 2024-05 in a rope no longer in the log, at 12 m from end A, by hollow-eye, good
Match 2, why: alike
Match 2, id: s
Not shown: 1 less alike
"""  # noqa: E501 (a fact takes the line it needs)


def test_what_worked_last_time_is_the_lines_written_by_hand() -> None:
    assert "\n".join(recall_lines(FOUND, most=2)) == BY_HAND.strip()


def test_rates_groups_and_strength_are_told_with_their_intervals() -> None:
    test = StrengthTest(id="t", created_at=NOON, changed_at=NOON, splice_id="s", kind=LoadKind.BREAK,
                        force=Force.read("20 kN"), failed_at=FailedAt.THROAT,
                        tested_on=PartialDate("2024"))  # fmt: skip
    strength = StrengthFound(
        scope="3 broken in this rope", n=3, mean_n=21_000.0, deviation_n=800.0, lower_n=14_890.0, k=7.6559,
        coverage=0.95, confidence=0.95, failed_at=(Counted("throat", 2), Counted("clear rope", 1)), proofs=1,
        proof_n=10_000.0, tests=(test,),
    )  # fmt: skip
    summary = msgspec.structs.replace(
        SUMMARY, rate=2 / 3, rate_interval=(0.2076, 0.9385), given_up=1, tools_remade=(Counted("hollow fid", 1),),
        noted=(Noted("tail stuck", 1, ("wet the tail\nand the core",)),),
        shortening_bias=Bias(mean_m=0.01, low_m=0.008, high_m=0.012, n=4),
    )  # fmt: skip
    found = msgspec.structs.replace(FOUND, matches=FOUND.matches[:1], same_rope=None, summary=summary,
                                    groups=(Group("hollow-eye", "", SUMMARY),), strength=strength)  # fmt: skip
    told = recall_lines(found)
    for line in (
        "In all like ropes: 66.7 % good, 95 % interval from 20.8 % to 93.8 %",
        "In all like ropes: hollow fid was used in 1 remade, failed or given up",
        "In all like ropes: against tail stuck was noted: wet the tail; and the core",
        "In all like ropes: the shortening over the bury was 10 mm longer than reckoned on average, 95 % interval from "
        "8 mm longer to 12 mm longer, n 4; a plan takes it as its shortening's correction",
        "Only hollow-eye in ropes of unknown make: 3 made (1 in this rope, 2 in ropes all alike)",
        "Strength: 3 broken in this rope",
        "Strength: 95 % of such splices hold 14.8 kN, with 95 % confidence (mean less 7.656 deviations)",
        "Strength: mean 21.0 kN, standard deviation 0.8 kN, n 3",
        "Strength: 2 failed at: throat",
        "Strength: 1 held a proof load, the highest 10.0 kN",
    ):
        assert line in told
    few = msgspec.structs.replace(strength, scope="too few for a bound", n=1, mean_n=None, lower_n=None, k=None)
    told = recall_lines(msgspec.structs.replace(found, strength=few))
    assert "Strength: too few for a bound" in told
    assert not any("mean" in line for line in told if line.startswith("Strength"))


def test_an_empty_diary_is_said_in_one_line() -> None:
    assert recall_lines(Recall(matches=(), summary=Summary(scope="none yet"))) == (
        "Nothing like it is in the diary yet",
    )


@pytest.mark.parametrize(
    ("imperial", "metres", "words"),
    [
        (False, 0.0, "no longer or shorter"),
        (False, -0.0004, "no longer or shorter"),
        (False, 0.0006, "1 mm longer"),
        (True, -0.003175, "1/8 in shorter"),
    ],
)
def test_a_difference_is_told_in_words_without_a_sign(*, imperial: bool, metres: float, words: str) -> None:
    assert Tape(imperial).longer(metres) == words


def test_the_bias_is_told_on_the_readers_tape() -> None:
    bias = Bias(mean_m=0.00635, low_m=0.003175, high_m=0.0127, n=4)
    found = msgspec.structs.replace(FOUND, summary=msgspec.structs.replace(SUMMARY, eye_bias=bias))
    assert (
        "In all like ropes: the finished eye came out 1/4 in longer than marked on average, "
        "95 % interval from 1/8 in longer to 1/2 in longer, n 4"
    ) in recall_lines(found, imperial=True)


def test_items_and_what_is_due_are_one_line_each() -> None:
    rows = [
        SimpleNamespace(tag="line-3", name="long\tline", category="lifeline", status=Status.IN_SERVICE,
                        due_on=date(2024, 6, 1), due="OVERDUE", reason="OVERDUE: never examined"),
        SimpleNamespace(tag="old", name="sling", category="sling", status=Status.RETIRED, due_on=None,
                        due="out of service", reason="retired: not to be used"),
    ]  # fmt: skip
    assert item_lines(rows) == (
        r"line-3: long\tline, lifeline, in service, OVERDUE: never examined",
        "old: sling, sling, retired: not to be used",
    )
    assert due_lines(rows[:1]) == (r"line-3 (long\tline): OVERDUE: never examined",)
    assert (item_lines([]), due_lines([])) == (("No items yet",), ("Nothing is due",))


def test_a_wide_table_counts_cells_and_not_letters() -> None:
    assert table_lines(("tag", "name"), [("縄縄", "a\x07"), ("b", "")]) == ("tag   name", "縄縄  a\\x07", "b")


def test_outcomes_are_told_in_the_words_of_the_list_and_all_of_them() -> None:
    """One list of outcomes serves plain lines and pages; what was added to the closed list is told too."""
    each = Summary(scope="", made=6, good=1, with_remark=1, remade=1, failed=1, cut_off=1, given_up=1)
    assert list(outcomes(each)) == [f"1 {label(outcome)}" for outcome in Outcome]
    assert list(outcomes(Summary(scope="", made=0, good=0))) == ["0 good"]


def test_nearly_all_is_never_told_as_all_and_an_interval_to_zero_reads_as_words() -> None:
    assert [share(part) for part in (0.0, 0.00001, 1 / 3, 0.9999, 1.0)] == ["0 %", "0.1 %", "33.3 %", "99.9 %", "100 %"]
    bias = Bias(mean_m=-0.0016, low_m=-0.0031, high_m=-0.0001, n=9)
    assert interval(bias, Tape()) == "95 % interval from 3 mm shorter to 0 mm"
