"""What tests of like splices say, and when they must say nothing."""

from __future__ import annotations

import statistics
from collections.abc import Callable
from datetime import UTC, datetime
from itertools import count

import pytest
import scipy.stats

from gearlog.domain.dates import PartialDate
from gearlog.domain.item import Item
from gearlog.domain.recalled import Counted, Demand, Query, StrengthFound
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import FailedAt, LoadKind, StrengthTest
from gearlog.domain.vocabulary import Condition
from gearlog.recall import recall
from gearlog.units.measure import Force, Length

MakeRope = Callable[..., Item]
MakeSplice = Callable[..., Splice]
NOW = datetime(2024, 5, 31, tzinfo=UTC)
NUMBERS = count()
ASKED = Query(construction="hollow-braid", method="hollow-eye", diameter_m=0.012, fibre="polyester",
              condition=Condition.NEW)  # fmt: skip


def a_test(splice: Splice, force: str, failed_at: FailedAt = FailedAt.THROAT) -> StrengthTest:
    kind = LoadKind.PROOF if failed_at is FailedAt.NOWHERE else LoadKind.BREAK
    return StrengthTest(id=f"t{next(NUMBERS)}", created_at=NOW, changed_at=NOW, splice_id=splice.id, kind=kind,
                        force=Force.read(force), failed_at=failed_at, tested_on=PartialDate("2024-05-31"))  # fmt: skip


def found(
    made: list[Splice], ropes: list[Item], forces: list[str], query: Query = ASKED, demand: Demand | None = None
) -> StrengthFound:
    tests = {splice.id: (a_test(splice, force),) for splice, force in zip(made, forces, strict=False)}
    answer = recall(query, made, {rope.id: rope for rope in ropes}, tests, demand).strength
    assert answer is not None
    return answer


@pytest.mark.parametrize(("coverage", "confidence"), [(0.95, 0.95), (0.99, 0.95), (0.9, 0.9)])
def test_the_lower_bound_is_the_mean_less_the_exact_factor_times_the_deviation(
    a_rope: MakeRope, a_splice: MakeSplice, coverage: float, confidence: float
) -> None:
    forces = [21.4, 19.8, 22.6, 20.1, 21.9]
    demand = Demand(coverage=coverage, confidence=confidence)
    made = [a_splice("r") for _ in forces]
    got = found(made, [a_rope("r")], [f"{force} kN" for force in forces], demand=demand)
    shift = scipy.stats.norm.ppf(coverage) * 5**0.5
    k = scipy.stats.nct.ppf(confidence, 4, shift) / 5**0.5
    mean, deviation = statistics.fmean(forces) * 1000, statistics.stdev(forces) * 1000
    assert (got.n, got.coverage, got.confidence) == (5, coverage, confidence)
    assert (got.mean_n, got.deviation_n, got.k) == pytest.approx((mean, deviation, k), rel=1e-9)
    assert got.lower_n == pytest.approx(mean - k * deviation, rel=1e-9)


@pytest.mark.parametrize(
    ("forces", "n", "words"),
    [
        ([], 0, "none of these splices was broken in a test"),
        (["20 kN"], 1, "too few for a bound: 1 broken"),
        (["20 kN", "22 kN"], 2, "too few for a bound: 2 broken"),
    ],
)
def test_fewer_than_three_breaks_give_neither_bound_nor_mean(
    a_rope: MakeRope, a_splice: MakeSplice, forces: list[str], n: int, words: str
) -> None:
    got = found([a_splice("r") for _ in range(3)], [a_rope("r")], forces)
    assert (got.n, got.mean_n, got.lower_n, got.k, got.deviation_n) == (n, None, None, None, None)
    assert words in got.scope


def test_equal_forces_have_no_spread_and_it_is_said(a_rope: MakeRope, a_splice: MakeSplice) -> None:
    got = found([a_splice("r") for _ in range(3)], [a_rope("r")], ["20 kN"] * 3)
    assert (got.mean_n, got.lower_n, got.deviation_n) == (20_000, 20_000, 0)
    assert "same force" in got.scope


def test_a_wild_spread_gives_a_bound_of_zero_not_below(a_rope: MakeRope, a_splice: MakeSplice) -> None:
    got = found([a_splice("r") for _ in range(3)], [a_rope("r")], ["2 kN", "20 kN", "22 kN"])
    assert got.lower_n == 0


def test_proof_loads_are_counted_apart_and_never_as_breaks(a_rope: MakeRope, a_splice: MakeSplice) -> None:
    made = [a_splice("r") for _ in range(5)]
    where = (FailedAt.THROAT, FailedAt.BURY_END, FailedAt.THROAT, FailedAt.NOWHERE, FailedAt.NOWHERE)
    tests = {
        splice.id: (a_test(splice, f"{20 - number} kN", failed),)
        for number, (splice, failed) in enumerate(zip(made, where, strict=True))
    }
    got = recall(ASKED, made, {"r": a_rope("r")}, tests).strength
    assert got is not None
    assert (got.n, got.proofs, got.proof_n) == (3, 2, 17_000)
    assert got.failed_at == (Counted("throat", 2), Counted("end of the bury", 1))
    assert len(got.tests) == 5


def test_tests_are_never_pooled_across_methods_constructions_or_sizes(a_rope: MakeRope, a_splice: MakeSplice) -> None:
    forces = ["20 kN", "21 kN", "22 kN", "23 kN"]
    methods = [a_splice("r"), a_splice("r"), a_splice("r"), a_splice("r", method="locked-eye")]
    got = found(methods, [a_rope("r")], forces, Query(rope_id="r"))
    assert (got.n, got.lower_n) == (4, None)
    assert "several methods or constructions" in got.scope
    sizes = [a_rope("r", maker="M", model="L"), a_rope("s", maker="M", model="L", diameter=Length.read("16 mm"))]
    several = [a_splice("r"), a_splice("r"), a_splice("r"), a_splice("s")]
    got = found(several, sizes, forces, Query(maker="M", model="L", method="hollow-eye"))
    assert got.lower_n is None
    assert "several diameters" in got.scope
    got = found(several, [sizes[0], a_rope("s", maker="M", model="L", diameter=None)], forces,
                Query(maker="M", model="L", method="hollow-eye"))  # fmt: skip
    assert "diameter is not known" in got.scope
    assert found(several[:3], sizes[:1], forces[:3]).lower_n is not None


def test_new_and_used_ropes_together_are_told(a_rope: MakeRope, a_splice: MakeSplice) -> None:
    made = [a_splice("r"), a_splice("r"), a_splice("r", condition=Condition.USED)]
    got = found(made, [a_rope("r")], ["20 kN", "21 kN", "22 kN"], Query(rope_id="r", method="hollow-eye"))
    assert got.lower_n is not None
    assert "new and used ropes together" in got.scope or "used and new ropes together" in got.scope


def test_groups_tell_each_method_by_itself(a_rope: MakeRope, a_splice: MakeSplice) -> None:
    eyes = {"finished_eye": Length.read("149 mm"), "minutes": 30}
    made = [a_splice("r", **eyes) for _ in range(3)] + [a_splice("r", method="locked-eye", **eyes) for _ in range(2)]
    answer = recall(Query(rope_id="r"), made, {"r": a_rope("r")})
    assert answer.summary.eye_bias is None
    told = [(group.method, group.construction, group.summary.made) for group in answer.groups]
    assert told == [("hollow-eye", "hollow-braid", 3), ("locked-eye", "hollow-braid", 2)]
    assert all(group.summary.eye_bias is not None for group in answer.groups)
    assert recall(ASKED, made, {"r": a_rope("r")}).groups == ()
