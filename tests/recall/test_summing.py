from __future__ import annotations

import statistics
from collections.abc import Callable

import pytest
import scipy.stats
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gearlog.domain.recalled import Counted
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Difficulty, Outcome
from gearlog.recall.student import two_sided_t
from gearlog.recall.summing import eye_bias, summed
from gearlog.units.measure import Length

MakeSplice = Callable[..., Splice]


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(eyes=st.lists(st.integers(100, 200), min_size=2, max_size=40))
def test_the_bias_of_the_eye_and_its_interval_are_those_of_scipy(a_splice: MakeSplice, eyes: list[int]) -> None:
    off = [eye / 1000 - 0.15 for eye in eyes]
    bias = eye_bias([a_splice("r", finished_eye=Length.read(f"{eye} mm")) for eye in eyes])
    assert bias is not None
    assert bias.n == len(eyes)
    assert bias.mean_m == pytest.approx(statistics.fmean(off), abs=1e-12)
    if len(set(eyes)) > 1:
        low, high = scipy.stats.t.interval(0.95, len(off) - 1, loc=statistics.fmean(off), scale=scipy.stats.sem(off))
        assert (bias.low_m, bias.high_m) == pytest.approx((low, high), rel=0, abs=1e-5)
    else:
        assert (bias.low_m, bias.high_m) == pytest.approx((off[0], off[0]), abs=1e-12)


@pytest.mark.parametrize("freedom", [1, 2, 3, 5, 10, 19, 20, 21, 22, 30, 60, 500])
def test_students_t_agrees_with_scipy(freedom: int) -> None:
    assert two_sided_t(freedom) == pytest.approx(scipy.stats.t.ppf(0.975, freedom), rel=1e-4)


def test_one_eye_or_a_splice_without_a_plan_gives_no_bias(a_splice: MakeSplice) -> None:
    measured = {"finished_eye": Length.read("6 in")}
    assert eye_bias([a_splice("r", **measured)]) is None
    assert eye_bias([a_splice("r", **measured), a_splice("r", plan=None, **measured), a_splice("r")]) is None


def test_outcomes_minutes_tools_and_difficulties_are_counted(a_splice: MakeSplice) -> None:
    made = [
        a_splice("r", outcome=Outcome.GOOD, minutes=30, tools=("Wire fid", "tape"),
                 difficulties=(Difficulty.TAIL_STUCK, Difficulty.STIFF_ROPE)),
        a_splice("r", outcome=Outcome.GOOD, minutes=45, tools=("wire fid", "wire fid")),
        a_splice("r", outcome=Outcome.REMARK, minutes=100, difficulties=(Difficulty.TAIL_STUCK,)),
        a_splice("r", outcome=Outcome.REMADE, tools=("hollow fid",), minutes=50),
        a_splice("r", outcome=Outcome.FAILED),
        a_splice("r", outcome=Outcome.CUT_OFF),
    ]  # fmt: skip
    summary = summed(made, "here", one_kind=True)
    counts = (summary.made, summary.good, summary.with_remark, summary.remade, summary.failed, summary.cut_off)
    assert counts == (6, 2, 1, 1, 1, 1)
    assert (summary.median_minutes, summary.timed) == (statistics.median([30, 45, 100, 50]), 4)
    assert summary.tools == (Counted("Wire fid", 2), Counted("tape", 1))
    assert summary.difficulties == (Counted("tail stuck", 2), Counted("stiff rope", 1))
