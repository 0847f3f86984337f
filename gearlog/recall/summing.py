"""What a group of splices teaches: how they came out, how long they took, what they were made with, how far off."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from statistics import median

from gearlog.domain.recalled import Counted, Noted, Summary
from gearlog.domain.vocabulary import Outcome
from gearlog.recall.bounds import mean_with_interval, wilson
from gearlog.recall.columns import Entry, Kind

MOST_NOTES = 3  # words told against one difficulty; the diary holds them all
NOT_GOOD = frozenset({Outcome.REMADE, Outcome.FAILED, Outcome.GIVEN_UP})
"""Outcomes whose tools are set against those of the good ones."""


def summed(entries: Sequence[Entry], scope: str, *, one_kind: bool) -> Summary:
    """Sum up entries, newest first; minutes and lengths only where all are of one kind (method and construction)."""
    kinds = Counter([entry.kind for entry in entries])
    outcomes = _outcomes(kinds)
    minutes = [entry.minutes for entry in entries if entry.minutes is not None]
    eyes = [entry.eye_off_m for entry in entries if entry.eye_off_m is not None]
    lengths = [entry.extra_shortening_m for entry in entries if entry.extra_shortening_m is not None]
    difficulties = _difficulties(kinds)
    good = outcomes[Outcome.GOOD]
    return Summary(
        scope=scope,
        made=len(entries),
        good=good,
        with_remark=outcomes[Outcome.REMARK],
        remade=outcomes[Outcome.REMADE],
        failed=outcomes[Outcome.FAILED],
        cut_off=outcomes[Outcome.CUT_OFF],
        given_up=outcomes[Outcome.GIVEN_UP],
        rate=good / len(entries) if entries else None,
        rate_interval=wilson(good, len(entries)),
        median_minutes=median(minutes) if minutes and one_kind else None,
        timed=len(minutes),
        tools=_tools(kinds, frozenset({Outcome.GOOD})),
        tools_remade=_tools(kinds, NOT_GOOD),
        difficulties=difficulties,
        noted=_noted(difficulties, entries),
        eyes=len(eyes),
        eye_bias=mean_with_interval(eyes) if one_kind else None,
        lengths=len(lengths),
        shortening_bias=mean_with_interval(lengths) if one_kind else None,
    )


def _outcomes(kinds: Mapping[Kind, int]) -> Counter[Outcome]:
    outcomes: Counter[Outcome] = Counter()
    for kind, times in kinds.items():
        outcomes[kind.outcome] += times
    return outcomes


def _tools(kinds: Mapping[Kind, int], outcomes: frozenset[Outcome]) -> tuple[Counted, ...]:
    """Tools of such splices; the same tool in other letters counts as one, in the spelling met first."""
    spelled: dict[str, str] = {}
    used: Counter[str] = Counter()
    for kind, times in kinds.items():
        if kind.outcome not in outcomes:
            continue
        names = {tool.casefold(): tool for tool in kind.tools}
        for name in names:
            used[name] += times
        spelled = names | spelled
    return _ranked({spelled[name]: times for name, times in used.items()})


def _difficulties(kinds: Mapping[Kind, int]) -> tuple[Counted, ...]:
    met: Counter[str] = Counter()
    for kind, times in kinds.items():
        for word in set(kind.difficulties):
            met[word.value] += times
    return _ranked(met)


def _noted(difficulties: Iterable[Counted], entries: Iterable[Entry]) -> tuple[Noted, ...]:
    """The newest words against each difficulty; the same words once."""
    notes: dict[str, dict[str, None]] = {counted.word: {} for counted in difficulties}
    open_words = set(notes)
    for entry in entries:
        if not open_words:
            break
        if entry.notes:
            for word in entry.kind.difficulties:
                told = notes[word.value]
                if len(told) < MOST_NOTES:
                    told[entry.notes] = None
                else:
                    open_words.discard(word.value)
    return tuple(Noted(counted.word, counted.times, tuple(notes[counted.word])) for counted in difficulties)


def _ranked(counts: Mapping[str, int]) -> tuple[Counted, ...]:
    ranked = sorted(counts.items(), key=lambda pair: (-pair[1], pair[0]))
    return tuple(Counted(word, times) for word, times in ranked)
