"""The correction that the diary offers: how much longer or shorter to mark the eye, and when it offers nothing."""

from __future__ import annotations

from gearlog.domain.recalled import Offer, Summary

LEAST_FOR_OFFER = 3  # eyes; the interval of two is a dozen times as wide as their spread


def offered(summary: Summary) -> Offer:
    """What the eyes of these splices suggest; nothing where they are few or where their interval holds zero."""
    bias = summary.eye_bias
    n = summary.eyes
    if n < LEAST_FOR_OFFER:
        return Offer(
            n=n, reason=f"too few eyes were measured against a plan: {n}, at least {LEAST_FOR_OFFER} are needed"
        )
    if bias is None:
        return Offer(n=n, reason="the eyes are of several methods or constructions, which are not put together")
    if bias.low_m <= 0 <= bias.high_m:
        reason = f"the mean of {n} eyes cannot be told from none, for its interval holds zero"
        return Offer(n=n, bias=bias, reason=reason)
    return Offer(n=n, bias=bias, correction_m=-bias.mean_m, reason="")
