"""Tolerance factors of strength against published tables and worked examples."""

from __future__ import annotations

import pytest
import scipy.stats

from gearlog.recall.bounds import tolerance_factor

TABLE = {
    3: (7.656, 6.155, 5.311, 10.553),
    4: (5.144, 4.162, 3.957, 7.042),
    5: (4.203, 3.407, 3.400, 5.741),
    6: (3.708, 3.006, 3.092, 5.062),
    8: (3.187, 2.582, 2.754, 4.354),
    10: (2.911, 2.355, 2.568, 3.981),
    15: (2.566, 2.068, 2.329, 3.520),
    20: (2.396, 1.926, 2.208, 3.295),
    30: (2.220, 1.777, 2.080, 3.064),
    50: (2.065, 1.646, 1.965, 2.862),
}
"""One-sided normal tolerance factors by n, as statistical handbooks print them, to three decimals."""
DEMANDS = ((0.95, 0.95), (0.90, 0.95), (0.95, 0.90), (0.99, 0.95))
"""Coverage and confidence of the table's columns."""


@pytest.mark.parametrize("n", TABLE)
def test_the_factor_is_that_of_the_published_table(n: int) -> None:
    factors = [tolerance_factor(n, coverage, confidence) for coverage, confidence in DEMANDS]
    assert factors == pytest.approx(TABLE[n], abs=0.00051)


@pytest.mark.parametrize(("n", "factor"), [(43, 1.8740), (6, 4.4111)])
def test_the_factor_is_that_of_the_worked_example(n: int, factor: float) -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3: coverage 0.90, confidence 0.99, by the exact way."""
    assert tolerance_factor(n, 0.90, 0.99) == pytest.approx(factor, abs=0.00006)


@pytest.mark.parametrize("n", [3, 4, 7, 12, 43, 120, 400])
@pytest.mark.parametrize(("coverage", "confidence"), [*DEMANDS, (0.999, 0.99), (0.5, 0.5), (0.9, 0.99)])
def test_the_factor_is_that_of_scipy(n: int, coverage: float, confidence: float) -> None:
    shift = scipy.stats.norm.ppf(coverage) * n**0.5
    reference = scipy.stats.nct.ppf(confidence, n - 1, shift) / n**0.5 if shift else 0.0
    assert tolerance_factor(n, coverage, confidence) == pytest.approx(reference, rel=1e-9, abs=1e-9)
