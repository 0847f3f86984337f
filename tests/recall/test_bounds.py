from __future__ import annotations

import math

import pytest
import scipy.stats
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlog.recall.bounds import deviation, mean_with_interval, wilson
from gearlog.recall.quantiles import t_quantile


@pytest.mark.parametrize("freedom", [1, 2, 3, 5, 10, 20, 21, 60, 500, 19_999])
@pytest.mark.parametrize("probability", [0.975, 0.95, 0.5, 0.01])
def test_students_t_agrees_with_scipy(freedom: int, probability: float) -> None:
    reference = scipy.stats.t.ppf(probability, freedom)
    assert t_quantile(probability, freedom) == pytest.approx(reference, rel=1e-9, abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(cases=st.integers(1, 500), share=st.floats(0, 1))
def test_wilsons_interval_agrees_with_scipy_and_holds_the_share(cases: int, share: float) -> None:
    successes = round(share * cases)
    interval = wilson(successes, cases)
    assert interval is not None
    reference = scipy.stats.binomtest(successes, cases).proportion_ci(method="wilson")
    assert interval == pytest.approx((reference.low, reference.high), abs=1e-12)
    assert 0 <= interval[0] <= successes / cases <= interval[1] <= 1


def test_wilsons_interval_by_its_own_formula() -> None:
    """E. B. Wilson 1927: the roots of (share - p)^2 = z^2 p (1 - p) / n."""
    z, n, share = 1.959963984540054, 12, 9 / 12
    a, b, c = 1 + z * z / n, -(2 * share + z * z / n), share * share
    root = math.sqrt(b * b - 4 * a * c)
    assert wilson(9, 12) == pytest.approx(((-b - root) / (2 * a), (-b + root) / (2 * a)), abs=1e-12)


def test_none_of_none_is_no_share() -> None:
    assert wilson(0, 0) is None
    z_square = scipy.stats.norm.ppf(0.975) ** 2
    assert wilson(0, 1) == pytest.approx((0.0, z_square / (1 + z_square)), abs=1e-12)


@pytest.mark.parametrize("values", [[], [0.004]])
def test_fewer_than_two_measures_have_no_interval(values: list[float]) -> None:
    assert mean_with_interval(values) is None


def test_identical_measures_have_an_interval_without_width() -> None:
    """Also where the mean of the floats is a hair off each of them."""
    found = mean_with_interval([0.1] * 7)
    assert found is not None
    assert (found.high_m - found.low_m, deviation([0.1] * 7)) == (0, 0)


def test_an_outlier_widens_the_interval_and_is_not_dropped() -> None:
    calm, wild = mean_with_interval([0.001, 0.002, 0.003]), mean_with_interval([0.001, 0.002, 0.003, 0.3])
    assert calm is not None
    assert wild is not None
    assert wild.high_m - wild.low_m > 50 * (calm.high_m - calm.low_m)
    assert wild.low_m < 0 < wild.high_m
