"""What a group of splices teaches: how they came out, how long they took, how far the eye was off."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from math import sqrt
from statistics import fmean, median, stdev

from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Outcome
from gearlog.recall.likeness import metres
from gearlog.recall.records import Bias, Counted, Summary
from gearlog.recall.student import two_sided_t

LEAST_EYES = 2  # a mean of fewer has no interval


def summed(splices: Sequence[Splice], scope: str, *, one_kind: bool) -> Summary:
    """Sum up ``splices``; minutes and eyes only where all are of one kind (method and construction)."""
    outcomes = Counter(splice.outcome for splice in splices)
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
        difficulties=_counted(word.value for splice in splices for word in set(splice.difficulties)),
        eye_bias=eye_bias(splices) if one_kind else None,
    )


def eye_bias(splices: Iterable[Splice]) -> Bias | None:
    """The mean of finished minus planned eye with its interval; None with fewer than two measured eyes."""
    off = [
        metres(splice.finished_eye) - splice.plan.inputs.eye_m
        for splice in splices
        if splice.finished_eye is not None and splice.plan is not None
    ]
    if len(off) < LEAST_EYES:
        return None
    mean = fmean(off)
    reach = two_sided_t(len(off) - 1) * stdev(off) / sqrt(len(off))
    return Bias(mean_m=mean, low_m=mean - reach, high_m=mean + reach, n=len(off))


def _tools(splices: Iterable[Splice]) -> tuple[Counted, ...]:
    """Tools of good splices; the same tool in other letters counts as one, in the spelling met first."""
    spelled: dict[str, str] = {}
    used: Counter[str] = Counter()
    for splice in splices:
        if splice.outcome is Outcome.GOOD:
            names = {tool.casefold(): tool for tool in splice.tools}
            used.update(names.keys())
            spelled = names | spelled
    return _counted(spelled[name] for name in used.elements())


def _counted(words: Iterable[str]) -> tuple[Counted, ...]:
    ranked = sorted(Counter(words).items(), key=lambda pair: (-pair[1], pair[0]))
    return tuple(Counted(word, times) for word, times in ranked)
