"""What break and proof tests of like splices say: a lower bound, never the mean alone, and where they failed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import fsum

from gearlog.domain.recalled import Counted, Demand, StrengthFound
from gearlog.domain.strength_test import LoadKind, StrengthTest
from gearlog.domain.vocabulary import label
from gearlog.recall.bounds import LEAST_FOR_BOUND, deviation, tolerance_factor


def strength_found(tests: Sequence[StrengthTest], demand: Demand, *, apart: str = "", scope: str = "") -> StrengthFound:
    """Sum up the tests; ``apart`` says why they may not be pooled (several methods, sizes), empty where they may."""
    ordered = tuple(sorted(tests, key=lambda test: (test.tested_on.latest(), test.created_at)))
    broken = [test for test in ordered if test.kind is LoadKind.BREAK]
    held = [test.force.si for test in ordered if test.kind is LoadKind.PROOF]
    forces = [test.force.si for test in broken]
    bound = len(forces) >= LEAST_FOR_BOUND and not apart
    k = tolerance_factor(len(forces), demand.coverage, demand.confidence) if bound else None
    mean = fsum(forces) / len(forces) if bound else None
    spread = deviation(forces) if bound else None
    return StrengthFound(
        scope=_scope(forces, apart, scope),
        n=len(forces),
        mean_n=mean,
        deviation_n=spread,
        lower_n=max(mean - k * spread, 0.0) if mean is not None and k is not None and spread is not None else None,
        k=k,
        coverage=demand.coverage,
        confidence=demand.confidence,
        failed_at=_failed(broken),
        proofs=len(held),
        proof_n=max(held, default=None),
        tests=ordered,
    )


def _scope(forces: Sequence[float], apart: str, scope: str) -> str:
    if not forces:
        return "none of these splices was broken in a test"
    if apart:
        return f"no bound: {apart}"
    if len(forces) < LEAST_FOR_BOUND:
        return f"too few for a bound: {len(forces)} broken, at least {LEAST_FOR_BOUND} are needed"
    same = "; all broke at the same force, which says more of the gauge than of the spread" * (len(set(forces)) == 1)
    return f"{len(forces)} broken {scope}".rstrip() + same


def _failed(broken: Sequence[StrengthTest]) -> tuple[Counted, ...]:
    counts = Counter(label(test.failed_at) for test in broken)
    return tuple(Counted(word, times) for word, times in sorted(counts.items(), key=lambda pair: (-pair[1], pair[0])))
