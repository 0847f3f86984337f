"""Intervals and bounds that say how little a few cases tell: Wilson's, Student's, the tolerance bound of strength."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum, sqrt
from statistics import NormalDist

from gearlog.domain.recalled import Bias
from gearlog.recall.quantiles import t_quantile

TWO_SIDED = 0.95  # confidence of every interval shown
UPPER = (1 + TWO_SIDED) / 2
LEAST_FOR_INTERVAL = 2  # measurements; a single one has no spread
LEAST_FOR_BOUND = 3  # tests; with two the factor is above 25 and the bound says nothing


def wilson(successes: int, cases: int) -> tuple[float, float] | None:
    """The 95 % interval of a share by Wilson's score; None without cases.

    Unlike the plain one it stays within 0 and 1 and keeps its width where all or none succeed (E. B. Wilson, 1927).
    """
    if not cases:
        return None
    z = NormalDist().inv_cdf(UPPER)
    share, z_square = successes / cases, z * z
    middle = share + z_square / (2 * cases)
    reach = z * sqrt(share * (1 - share) / cases + z_square / (4 * cases * cases))
    whole = 1 + z_square / cases
    low = 0.0 if successes == 0 else (middle - reach) / whole
    return low, 1.0 if successes == cases else (middle + reach) / whole


def mean_with_interval(values: Sequence[float]) -> Bias | None:
    """Mean and 95 % t interval; None with fewer than two values. Identical values give an interval without width."""
    n = len(values)
    if n < LEAST_FOR_INTERVAL:
        return None
    mean = fsum(values) / n
    reach = t_quantile(UPPER, n - 1) * deviation(values) / sqrt(n)
    return Bias(mean_m=mean, low_m=mean - reach, high_m=mean + reach, n=n)


def deviation(values: Sequence[float]) -> float:
    """The sample's standard deviation (n - 1); of at least two values."""
    if min(values) == max(values):
        return 0.0
    mean = fsum(values) / len(values)
    return sqrt(fsum([(value - mean) ** 2 for value in values]) / (len(values) - 1))


def tolerance_factor(n: int, coverage: float, confidence: float) -> float:
    """The exact one-sided normal tolerance factor k: mean - k s lies below ``coverage`` of all with ``confidence``.

    k = t'(confidence; n - 1, z sqrt n) / sqrt n with z the normal quantile of ``coverage`` (NIST/SEMATECH e-Handbook
    7.2.6.3); ``n`` at least 2.
    """
    shift = NormalDist().inv_cdf(coverage) * sqrt(n)
    return t_quantile(confidence, n - 1, shift) / sqrt(n)
