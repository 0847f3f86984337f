"""Student's t, for the interval of a mean of few measurements."""

from __future__ import annotations

from statistics import NormalDist

TWO_SIDED = 0.95  # confidence of every interval shown
SMALL = (
    12.7062, 4.3027, 3.1824, 2.7764, 2.5706, 2.4469, 2.3646, 2.3060, 2.2622, 2.2281, 2.2010, 2.1788,
    2.1604, 2.1448, 2.1314, 2.1199, 2.1098, 2.1009, 2.0930, 2.0860,
)  # fmt: skip
"""The 97.5 % point for 1 to 20 degrees of freedom (any table of Student's distribution)."""


def two_sided_t(freedom: int) -> float:
    """The t that holds 95 % between its two signs; beyond the table by Fisher's expansion in 1/freedom."""
    if freedom <= len(SMALL):
        return SMALL[freedom - 1]
    z = NormalDist().inv_cdf((1 + TWO_SIDED) / 2)
    first = (z**3 + z) / 4
    second = (5 * z**5 + 16 * z**3 + 3 * z) / 96
    third = (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384
    return z + first / freedom + second / freedom**2 + third / freedom**3
