"""The corrections that the diary offers, of the eye and of the shortening, and when it offers nothing."""

from __future__ import annotations

from gearlog.domain.recalled import Bias, Offer, Summary

LEAST_FOR_OFFER = 3  # measured; the interval of two is a dozen times as wide as their spread


def offered(summary: Summary) -> Offer:
    """What the eyes of these splices suggest; nothing where they are few or where their interval holds zero."""
    bias = summary.eye_bias
    return _offer(summary.eyes, bias, "eyes", -bias.mean_m if bias else 0.0)


def shortening_offered(summary: Summary) -> Offer:
    """What their finished lengths suggest of the shortening, likewise."""
    bias = summary.shortening_bias
    return _offer(summary.lengths, bias, "finished lengths", bias.mean_m if bias else 0.0)


def _offer(n: int, bias: Bias | None, what: str, correction_m: float) -> Offer:
    if n < LEAST_FOR_OFFER:
        reason = f"too few {what} were measured against a plan: {n}, at least {LEAST_FOR_OFFER} are needed"
        return Offer(n=n, reason=reason)
    if bias is None:
        return Offer(n=n, reason=f"the {what} are of several methods or constructions, which are not put together")
    if bias.low_m <= 0 <= bias.high_m:
        reason = f"the mean of {n} {what} cannot be told from none, for its interval holds zero"
        return Offer(n=n, bias=bias, reason=reason)
    return Offer(n=n, bias=bias, correction_m=correction_m, reason="")
