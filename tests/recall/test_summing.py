from __future__ import annotations

import statistics
from collections.abc import Callable

import pytest
import scipy.stats
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from gearlog.domain.plan import Finished, Shortening
from gearlog.domain.recalled import Counted, Noted, Summary
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Difficulty, Outcome
from gearlog.recall.bounds import wilson
from gearlog.recall.columns import Columns
from gearlog.recall.summing import summed
from gearlog.units.measure import Length

MakeSplice = Callable[..., Splice]


def summary_of(splices: list[Splice], *, one_kind: bool = True) -> Summary:
    return summed(Columns(splices).entries, "here", one_kind=one_kind)


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(eyes=st.lists(st.integers(100, 200), min_size=2, max_size=40))
def test_the_bias_of_the_eye_and_its_interval_are_those_of_scipy(a_splice: MakeSplice, eyes: list[int]) -> None:
    off = [eye / 1000 - 0.15 for eye in eyes]
    summary = summary_of([a_splice("r", finished_eye=Length.read(f"{eye} mm")) for eye in eyes])
    bias = summary.eye_bias
    assert bias is not None
    assert bias.n == summary.eyes == len(eyes)
    assert bias.mean_m == pytest.approx(statistics.fmean(off), abs=1e-12)
    if len(set(eyes)) > 1:
        low, high = scipy.stats.t.interval(0.95, len(off) - 1, loc=statistics.fmean(off), scale=scipy.stats.sem(off))
        assert (bias.low_m, bias.high_m) == pytest.approx((low, high), rel=0, abs=1e-12)
    else:
        assert (bias.low_m, bias.high_m) == pytest.approx((off[0], off[0]), abs=1e-12)


def test_one_eye_or_a_splice_without_a_plan_gives_no_bias(a_splice: MakeSplice) -> None:
    measured = {"finished_eye": Length.read("6 in")}
    one = summary_of([a_splice("r", **measured)])
    assert (one.eye_bias, one.eyes) == (None, 1)
    several = summary_of([a_splice("r", **measured), a_splice("r", plan=None, **measured), a_splice("r")])
    assert (several.eye_bias, several.eyes) == (None, 1)
    assert summary_of([a_splice("r", **measured)] * 2, one_kind=False).eye_bias is None


def test_a_correction_that_was_taken_does_not_hide_the_bias(a_splice: MakeSplice) -> None:
    """The eye is compared with what was marked out, or a second look would learn that nothing is off."""
    made = []
    for eye in ("150 mm", "151 mm"):
        splice = a_splice("r", finished_eye=Length.read(eye))
        assert splice.plan is not None
        inputs = replace(splice.plan.inputs, eye_correction_m=0.004)
        made.append(replace(splice, plan=replace(splice.plan, inputs=inputs)))
    bias = summary_of(made).eye_bias
    assert bias is not None
    assert bias.mean_m == pytest.approx(-0.0035, abs=1e-12)


@pytest.mark.parametrize(
    ("finished", "both_ends", "extra_m"), [(("2.96 m", "2.98 m"), False, 0.03), (("2.96 m", "2.98 m"), True, 0.015)]
)
def test_the_shortening_beyond_what_was_reckoned(
    a_splice: MakeSplice, finished: tuple[str, str], both_ends: bool, extra_m: float
) -> None:
    """Where both ends have the eye, each has taken half of what is missing."""
    made = []
    for text in finished:
        splice = a_splice("r", finished_length=Length.read(text))
        assert splice.plan is not None
        plan = replace(
            splice.plan,
            inputs=replace(splice.plan.inputs, both_ends=both_ends),
            finished=Finished(what="", finished_m=3.0, cut_m=4.0, formula="", worked="", source="", wanted=True),
            shortening=Shortening(length_m=0.03, ratio=0.93, braid_angle_deg=20, swelling=1.4, source=""),
        )
        made.append(replace(splice, plan=plan))
    summary = summary_of(made)
    assert summary.shortening_bias is not None
    assert summary.shortening_bias.mean_m == pytest.approx(extra_m, abs=1e-12)
    assert summary.eye_bias is None


@pytest.mark.parametrize(
    ("shape", "both_ends", "missing_m", "extra_m"),
    [("eye", True, 0.038, 0.015), ("eye", False, 0.015, 0.015), ("sling", False, 0.019, 0.015)],
    ids=["crown to crown", "from the throat", "a sling's fixed eye"],
)
def test_what_an_eye_came_out_smaller_is_not_held_against_the_shortening(
    a_splice: MakeSplice, shape: str, both_ends: bool, missing_m: float, extra_m: float
) -> None:
    """Eyes 4 mm small: crown to crown 2 * 15 mm of shortening and 2 * 4 mm of eyes are missing, else no eye."""
    made = []
    for off in (-0.001, 0.001):
        splice = a_splice("r", finished_length=Length.read(f"{3.0 - missing_m + off:.3f} m"))
        assert splice.plan is not None
        assert splice.plan.inputs.eye_m is not None
        eye = Length.read(f"{(splice.plan.inputs.eye_m - 0.004) * 1000:.0f} mm")
        plan = replace(
            splice.plan,
            shape=shape,
            inputs=replace(splice.plan.inputs, both_ends=both_ends),
            finished=Finished(what="", finished_m=3.0, cut_m=4.0, formula="", worked="", source="", wanted=True),
            shortening=Shortening(length_m=0.03, ratio=0.93, braid_angle_deg=20, swelling=1.4, source=""),
        )
        made.append(replace(splice, plan=plan, finished_eye=eye))
    bias = summary_of(made).shortening_bias
    assert bias is not None
    assert bias.mean_m == pytest.approx(extra_m, abs=1e-12)


def test_a_shortening_that_was_corrected_is_not_learned_away(a_splice: MakeSplice) -> None:
    """Planned with 12 mm more, and now all but right: the rope still shortens 12 mm more than braid geometry gives."""
    made = []
    for text in ("2.999 m", "3.001 m"):
        splice = a_splice("r", finished_length=Length.read(text))
        assert splice.plan is not None
        plan = replace(
            splice.plan,
            inputs=replace(splice.plan.inputs, shortening_correction_m=0.012),
            finished=Finished(what="", finished_m=3.0, cut_m=4.0, formula="", worked="", source="", wanted=True),
            shortening=Shortening(length_m=0.042, ratio=0.93, braid_angle_deg=20, swelling=1.4, source=""),
        )
        made.append(replace(splice, plan=plan))
    bias = summary_of(made).shortening_bias
    assert bias is not None
    assert bias.mean_m == pytest.approx(0.012, abs=1e-12)


def test_outcomes_minutes_tools_and_difficulties_are_counted(a_splice: MakeSplice) -> None:
    made = [
        a_splice("r", outcome=Outcome.GOOD, minutes=30, tools=("Wire fid", "tape"),
                 difficulties=(Difficulty.TAIL_STUCK, Difficulty.STIFF_ROPE)),
        a_splice("r", outcome=Outcome.GOOD, minutes=45, tools=("wire fid", "wire fid")),
        a_splice("r", outcome=Outcome.REMARK, minutes=100, difficulties=(Difficulty.TAIL_STUCK,),
                 difficulty_words="wet the tail"),
        a_splice("r", outcome=Outcome.REMADE, tools=("hollow fid",), minutes=50),
        a_splice("r", outcome=Outcome.FAILED, difficulties=(Difficulty.TAIL_STUCK,), notes="wire fid bent"),
        a_splice("r", outcome=Outcome.CUT_OFF),
    ]  # fmt: skip
    summary = summary_of(made)
    counts = (summary.made, summary.good, summary.with_remark, summary.remade, summary.failed, summary.cut_off)
    assert counts == (6, 2, 1, 1, 1, 1)
    assert (summary.median_minutes, summary.timed) == (statistics.median([30, 45, 100, 50]), 4)
    assert summary.tools == (Counted("wire fid", 2), Counted("tape", 1)), "spelled as last"
    assert summary.tools_remade == (Counted("hollow fid", 1),)
    assert summary.difficulties == (Counted("tail stuck", 3), Counted("stiff rope", 1))
    assert summary.noted == (
        Noted("tail stuck", 3, ("wire fid bent", "wet the tail")),
        Noted("stiff rope", 1, ()),
    )
    assert (summary.rate, summary.rate_interval) == (2 / 6, wilson(2, 6))


def test_no_splices_have_no_rate_and_no_interval() -> None:
    summary = summary_of([])
    assert (summary.made, summary.rate, summary.rate_interval, summary.median_minutes) == (0, None, None, None)
    assert (summary.eye_bias, summary.noted, summary.tools_remade) == (None, (), ())
