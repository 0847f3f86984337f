"""What a group of splices teaches: how they came out, how long they took, how far the eye was off."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from math import fsum, sqrt
from statistics import median

from gearlog.domain.recalled import Bias, Counted, Summary
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Outcome
from gearlog.recall.likeness import metres
from gearlog.recall.student import two_sided_t

LEAST_EYES = 2  # a mean of fewer has no interval


def summed(splices: Sequence[Splice], scope: str, *, one_kind: bool) -> Summary:
    """Sum up ``splices``; minutes and eyes only where all are of one kind (method and construction)."""
    outcomes = Counter([splice.outcome for splice in splices])
    minutes = [splice.minutes for splice in splices if splice.minutes is not None]
    return Summary(
        scope=scope,
        made=len(splices),
        good=outcomes[Outcome.GOOD],
        with_remark=outcomes[Outcome.REMARK],
        remade=outcomes[Outcome.REMADE],
        failed=outcomes[Outcome.FAILED],
        cut_off=outcomes[Outcome.CUT_OFF],
        median_minutes=median(minutes) if minutes and one_kind else None,
        timed=len(minutes),
        tools=_tools(splices),
        difficulties=_difficulties(splices),
        eye_bias=eye_bias(splices) if one_kind else None,
    )


def eye_bias(splices: Iterable[Splice]) -> Bias | None:
    """The mean of finished minus planned eye with its interval; None with fewer than two measured eyes."""
    off = [
        metres(splice.finished_eye) - marked
        for splice in splices
        if splice.finished_eye is not None and splice.plan is not None
        if (marked := splice.plan.inputs.marked_eye_m) is not None
    ]
    n = len(off)
    if n < LEAST_EYES:
        return None
    mean = fsum(off) / n
    deviation = sqrt(fsum([(each - mean) ** 2 for each in off]) / (n - 1))
    reach = two_sided_t(n - 1) * deviation / sqrt(n)
    return Bias(mean_m=mean, low_m=mean - reach, high_m=mean + reach, n=n)


def _tools(splices: Iterable[Splice]) -> tuple[Counted, ...]:
    """Tools of good splices; the same tool in other letters counts as one, in the spelling met first."""
    sets = Counter([splice.tools for splice in splices if splice.outcome is Outcome.GOOD])
    spelled: dict[str, str] = {}
    used: Counter[str] = Counter()
    for tools, times in sets.items():
        names = {tool.casefold(): tool for tool in tools}
        used.update(dict.fromkeys(names, times))
        spelled = names | spelled
    return _ranked({spelled[name]: times for name, times in used.items()})


def _difficulties(splices: Iterable[Splice]) -> tuple[Counted, ...]:
    met: Counter[str] = Counter()
    for words, times in Counter([splice.difficulties for splice in splices]).items():
        met.update(dict.fromkeys([word.value for word in words], times))
    return _ranked(met)


def _ranked(counts: Mapping[str, int]) -> tuple[Counted, ...]:
    ranked = sorted(counts.items(), key=lambda pair: (-pair[1], pair[0]))
    return tuple(Counted(word, times) for word, times in ranked)
