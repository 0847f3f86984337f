"""Entering a splice and its tests on the command line, and what recall then answers as JSON."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
import scipy.stats

from gearlog.services.book import open_book
from tests.cli.conftest import TODAY, Call, Ended

ROPE = {
    "name": "long climbing line", "tag": "line-3", "category": "lifeline", "construction": "hollow-braid",
    "strands": "12", "lay": "loose", "cover_fibre": "polyester", "diameter": "12 mm", "length_bought": "45 m",
}  # fmt: skip
HERE = ("record", "--rope", "line-3", "--end", "A", "--method", "hollow-eye")
GOOD = ("--outcome", "good", "--condition", "used")
PLANNED = (*HERE, "--eye", "150 mm", "--pin", "50 mm")


@pytest.fixture(autouse=True)
def rope(log: Path) -> None:
    with open_book(log, today=lambda: TODAY) as book:
        book.gear.add(book.gear.blank_form() | ROPE)


def splices(log: Path) -> list[Any]:
    with open_book(log, today=lambda: TODAY) as book:
        return [row.splice for row in book.diary.rows()]


def answer(ended: Ended) -> Any:
    assert (ended.code, ended.err) == (0, "")
    return json.loads(ended.out)


def test_a_splice_is_recorded_with_every_field_as_an_option(call: Call, log: Path) -> None:
    ended = call(
        *HERE, "--made-on", "2026-10", "--outcome", "usable with remark", "--finished-eye", "6 in", "--minutes", "50",
        "--tools", "wire fid", "--tools", "tape", "--condition", "used", "--finish", "whipping", "--made-by", "k.l.",
        "--difficulties", "stiff rope", "--difficulties", "tail stuck", "--ease", "2", "--notes", "cold [/]",
    )  # fmt: skip
    assert (ended.code, ended.err) == (0, "")
    (made,) = splices(log)
    assert ended.out.splitlines() == [
        "recorded in line-3, end A: hollow-eye, 2026-10, usable with remark, rope used", f"id: {made.id}",
    ]  # fmt: skip
    kept = (made.made_on.text, str(made.finished_eye), made.minutes, made.tools, made.made_by, made.notes, made.plan)
    assert kept == ("2026-10", "6 in", 50, ("wire fid", "tape"), "k.l.", "cold [/]", None)
    assert [word.value for word in made.difficulties] == ["stiff rope", "tail stuck"]


def test_as_last_time_only_what_differs_is_typed_and_told(call: Call, log: Path) -> None:
    first = answer(call(*PLANNED, *GOOD, "--measured", "b=503 mm", "--made-by", "k.l.", "--json"))
    assert first["planned"] is True
    again = answer(
        call("record", "--like", first["id"], *GOOD, "--made-by", "m.", "--measured", "3=1.31 m", "--measured",
             "b=19 7/8 in", "--json")
    )  # fmt: skip
    assert again["differs"] == [
        "made by: m., last time k.l.",
        "measured at b, throat on the tail: 19 7/8 in, last time 503 mm",
        "measured at d, end of the bury: 1.31 m, last time empty",
    ]
    newest, oldest = splices(log)
    assert newest.plan == oldest.plan
    last = call("record", "--like", "last", "--rope", "line-3", "--end", "B", *GOOD, "--notes", "windy")
    assert "not as last time: end: B, last time A" in last.out.splitlines()
    assert splices(log)[0].plan.inputs.end == "B"


@pytest.mark.parametrize("typed", [HERE, PLANNED])
def test_the_condition_of_the_rope_is_said_by_whoever_records(call: Call, log: Path, typed: tuple[str, ...]) -> None:
    unsaid = call(*typed, "--outcome", "good")
    assert (unsaid.code, unsaid.out) == (2, "")
    assert "--condition: is empty; choose one of: new, used" in unsaid.err
    assert splices(log) == []
    assert answer(call(*typed, *GOOD, "--json"))["condition"] == "used"
    again = call("record", "--like", "last", "--rope", "line-3", "--end", "A", "--outcome", "good", "--json")
    assert answer(again)["condition"] == "used"


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("record",), "--rope: "),
        (("record", "--rope", "nobody", "--method", "hollow-eye"), "--rope: is not the tag"),
        (HERE, "--outcome: is empty; choose one of: good"),
        (("record", "--rope", "line-3", "--method", "hollow-eye", *GOOD), "--end: is empty"),
        (("record", "--like", "last", "--rope", "line-3"), "--like last needs the rope and its end"),
        ((*HERE, "--made-on", "yesterday"), "--made-on: 'yesterday' is not a date"),
        ((*HERE, "--measured", "b=503 mm"), "--measured needs a plan"),
        ((*PLANNED, "--measured", "b"), "is not MARK=LENGTH"),
        ((*PLANNED, "--measured", "z=1 mm"), "is not MARK=LENGTH"),
        ((*PLANNED, "--measured", "b=503"), "--measured 1: '503' has no unit"),
        ((*HERE, "--eye", "150"), "--eye: '150' has no unit"),
        ((*HERE, "--method", "none-such"), "--method: "),
        (("record", "--like", "last"), "--like last needs the rope"),
        (("record", "--like", "0123"), "not in the diary"),
        ((*HERE, "--cut-length", "1 m"), "--cut-length: "),
        (("strength", "0123", "--force", "20 kN"), "not in the diary"),
        (("strength",), "ID"),
        (("recall", "--rope", "line-3", "--coverage", "95"), "--coverage: '95' is too large"),
        (("recall", "--rope", "line-3", "--confidence", "a lot"), "--confidence: 'a lot' is not a plain number"),
    ],
)
def test_what_cannot_be_recorded_is_told_by_its_option(
    call: Call, log: Path, arguments: tuple[str, ...], told: str
) -> None:
    ended = call(*arguments)
    assert (ended.code, ended.out) == (2, "")
    assert told in ended.err
    assert ended.err.count("\n") == 1
    assert splices(log) == []


def test_recall_answers_in_its_one_shape_with_nulls_where_there_is_too_little(call: Call) -> None:
    found = answer(call("recall", "--rope", "line-3", "--method", "hollow-eye", "--json"))
    assert found["matches"] == []
    assert found["bias"] == {"eye_m": None, "interval_m": None, "n": 0}
    summary = {name: found["summary"][name] for name in ("made", "good", "remade", "rate", "rate_interval",
                                                         "median_minutes")}  # fmt: skip
    assert summary == {"made": 0, "good": 0, "remade": 0, "rate": None, "rate_interval": None, "median_minutes": None}
    strength = {name: found["strength"][name] for name in ("n", "mean_n", "lower_n", "k", "coverage", "confidence")}
    assert strength == {"n": 0, "mean_n": None, "lower_n": None, "k": None, "coverage": 0.95, "confidence": 0.95}


def test_recall_sums_up_what_was_recorded_and_tested(call: Call) -> None:
    made = [
        answer(call(*PLANNED, *GOOD, "--finished-eye", f"{eye} mm", "--minutes", minutes, "--outcome", outcome,
                    "--json"))["id"]
        for eye, minutes, outcome in ((146, "40", "good"), (147, "60", "good"), (151, "50", "remade"))
    ]  # fmt: skip
    for splice, force in zip(made, ("20 kN", "21 kN", "22.5 kN"), strict=True):
        assert call("strength", splice, "--kind", "break", "--force", force, "--failed-at", "throat").code == 0
    asked = ("recall", "--rope", "line-3", "--method", "hollow-eye", "--coverage", "0.9", "--confidence", "0.95")
    found = answer(call(*asked, "--json"))
    assert {match["id"] for match in found["matches"]} == set(made)
    match = found["matches"][0]
    assert (match["rope"], match["outcome"], match["settings"]["eye_m"]) == ("line-3", "remade", 0.15)
    assert match["why"][0] == "the same rope"
    assert "plan" not in match["settings"]
    summary = found["summary"]
    assert (summary["made"], summary["good"], summary["remade"], summary["median_minutes"]) == (3, 2, 1, 50)
    assert summary["rate"] == pytest.approx(2 / 3)
    wilson = scipy.stats.binomtest(2, 3).proportion_ci(method="wilson")
    assert summary["rate_interval"] == pytest.approx([wilson.low, wilson.high], abs=1e-9)
    off = [-0.004, -0.003, 0.001]
    assert found["bias"]["eye_m"] == pytest.approx(-0.002, abs=1e-12)
    interval = scipy.stats.t.interval(0.95, 2, loc=-0.002, scale=scipy.stats.sem(off))
    assert found["bias"]["interval_m"] == pytest.approx(list(interval), abs=1e-9)
    strength, forces = found["strength"], [20_000.0, 21_000.0, 22_500.0]
    k = scipy.stats.nct.ppf(0.95, 2, scipy.stats.norm.ppf(0.9) * 3**0.5) / 3**0.5
    assert (strength["n"], strength["coverage"], strength["confidence"]) == (3, 0.9, 0.95)
    assert strength["k"] == pytest.approx(k, rel=1e-9)
    assert strength["mean_n"] == pytest.approx(sum(forces) / 3)
    assert strength["lower_n"] == pytest.approx(sum(forces) / 3 - k * scipy.stats.tstd(forces), rel=1e-9)
    assert "Strength: 3 failed at: throat" in call(*asked).out


def test_a_proof_load_is_entered_and_told(call: Call) -> None:
    made = answer(call(*PLANNED, *GOOD, "--json"))["id"]
    ended = call(
        "strength", made, "--kind", "proof", "--force", "10 kN", "--place", "yard", "--tested-on", "2026-11-01"
    )
    assert ended.out.startswith("recorded: proof at 10 kN, held, 2026-11-01\nid: ")
    told = call("recall", "--rope", "line-3").out
    assert "Strength: none of these splices was broken in a test" in told
    assert "Strength: 1 held a proof load, the highest 10.0 kN" in told
