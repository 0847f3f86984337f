"""Find the earlier splices that are like the one about to be made, the most alike first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from gearlog.domain.item import Item
from gearlog.domain.recalled import Demand, Group, Match, Query, Recall, StrengthFound, Summary
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import StrengthTest
from gearlog.domain.vocabulary import Condition
from gearlog.recall.columns import Columns, Entry
from gearlog.recall.likeness import (
    ALIKE,
    NEAR_DIAMETER_M,
    NEAR_EYE,
    RANK_STEP,
    ROUNDING_M,
    SAME_MODEL,
    SAME_ROPE,
    Kinship,
    judge,
    kinship,
    metres,
)
from gearlog.recall.strength import strength_found
from gearlog.recall.summing import summed

RANK_WORDS = ((SAME_ROPE, "in this rope"), (SAME_MODEL, "of the same maker and model"), (ALIKE, "in ropes all alike"))
SEVERAL = "several methods or constructions together, so neither minutes nor eyes are averaged"
ONE_SIZE_M = NEAR_DIAMETER_M + ROUNDING_M  # ropes whose diameters differ by more do not break alike

Tests = Mapping[str, Sequence[StrengthTest]]
"""Tests by the id of their splice."""


@dataclass(frozen=True, slots=True)
class _Case:
    """The splices of one rope, method and condition (and, where an eye is asked for, of near eyes or of others)."""

    rope: Item | None
    method: str
    condition: Condition
    score: int
    why: tuple[str, ...]
    places: Sequence[int]

    @property
    def kind(self) -> tuple[str, str]:
        """Method and construction: what may be averaged together."""
        return self.method, self.rope.rope.construction if self.rope and self.rope.rope else ""


def recall(
    query: Query,
    splices: Sequence[Splice] | Columns,
    ropes: Mapping[str, Item],
    tests: Tests | None = None,
    demand: Demand | None = None,
) -> Recall:
    """What the diary knows: ranked matches and what they add up to. ``ropes`` are the items by id."""
    columns = splices if isinstance(splices, Columns) else Columns(standing(splices))
    cases = _cases(query, columns, ropes)
    asked = [case for case in cases if not query.method or case.method == query.method]
    here = [case for case in asked if case.score >= SAME_ROPE]
    near = [case for case in asked if case.score >= ALIKE]
    group = near or asked
    scope = _scope(near) if near or not asked else "none in a like rope; these are in ropes alike only in part"
    return Recall(
        matches=_matches(cases, columns.entries),
        summary=_sum(group, scope, columns.entries),
        same_rope=_sum(here, "in this rope", columns.entries) if here else None,
        groups=_groups(group, columns.entries),
        strength=_strength(group, columns, tests or {}, demand or Demand()),
    )


def standing(splices: Iterable[Splice]) -> list[Splice]:
    """The records that no later record corrects."""
    records = list(splices)
    replaced = {record.corrects for record in records if record.corrects != record.id}
    return [record for record in records if record.id not in replaced]


def _cases(query: Query, columns: Columns, ropes: Mapping[str, Item]) -> list[_Case]:
    """Cases that match: a diary has far fewer of them than splices, so each is judged once for all of its splices."""
    kin = _Kin(query, ropes)
    found = []
    for (rope_id, method, condition), places in columns.places.items():
        for near, some in _by_eye(query, places, columns.eyes):
            score, why = kin.judged(rope_id, method, condition, near=near)
            if score and some:
                found.append(_Case(ropes.get(rope_id), method, Condition(condition), score, why, some))
    return found


class _Kin:
    """Ropes against the query; ropes that are alike in all that is asked are judged once for all."""

    def __init__(self, query: Query, ropes: Mapping[str, Item]) -> None:
        self._query = query
        self._ropes = ropes
        self._kinships: dict[tuple[object, ...], Kinship] = {}
        self._judged: dict[tuple[object, ...], tuple[int, tuple[str, ...]]] = {}

    def judged(self, rope_id: str, method: str, condition: str, *, near: bool) -> tuple[int, tuple[str, ...]]:
        """Score and reasons of the splices of one case."""
        facts = self._facts(rope_id)
        case = (facts, method, condition, near)
        if case not in self._judged:
            kin = self._kinships.get(facts)
            if kin is None:
                kin = self._kinships[facts] = kinship(self._query, rope_id, self._ropes.get(rope_id))
            self._judged[case] = judge(self._query, kin, method, Condition(condition), eye=near)
        return self._judged[case]

    def _facts(self, rope_id: str) -> tuple[object, ...]:
        item = self._ropes.get(rope_id)
        same = bool(self._query.rope_id) and rope_id == self._query.rope_id
        if item is None or item.rope is None:
            return same, item is None, item.maker if item else "", item.model if item else ""
        rope = item.rope
        diameter = rope.diameter.text if rope.diameter else ""
        return same, rope.construction, rope.cover_fibre, diameter, item.maker, item.model


def _by_eye(query: Query, places: Sequence[int], eyes: Sequence[float | None]) -> list[tuple[bool, Sequence[int]]]:
    """The places whose eye was within a tenth of the one asked for, and the others."""
    eye = query.eye_m
    if eye is None:
        return [(False, places)]
    low, high = eye - NEAR_EYE * eye, eye + NEAR_EYE * eye
    near: list[int] = []
    others: list[int] = []
    for place in places:
        then = eyes[place]
        (near if then is not None and low <= then <= high else others).append(place)
    return [(True, near), (False, others)]


def _matches(cases: Sequence[_Case], entries: Sequence[Entry]) -> tuple[Match, ...]:
    """The most alike first, and of those the newest."""
    by_score: dict[int, list[_Case]] = {}
    for case in cases:
        by_score.setdefault(case.score, []).append(case)
    made: list[Match] = []
    owners: list[_Case] = [next(iter(cases))] * len(entries) if by_score else []
    for score in sorted(by_score, reverse=True):
        places: list[int] = []
        for case in by_score[score]:
            places += case.places
            for place in case.places:
                owners[place] = case
        pairs = ((entries[place].splice, owners[place]) for place in sorted(places))
        made += [Match(splice=splice, rope=case.rope, score=score, why=case.why) for splice, case in pairs]
    return tuple(made)


def _entries(cases: Iterable[_Case], entries: Sequence[Entry]) -> list[Entry]:
    """The entries of the cases, newest first."""
    return [entries[place] for place in sorted([place for case in cases for place in case.places])]


def _scope(near: Iterable[_Case]) -> str:
    """How many of each rank, in words."""
    counts: Counter[int] = Counter()
    for case in near:
        counts[case.score // RANK_STEP * RANK_STEP] += len(case.places)
    parts = [f"{counts[rank]} {words}" for rank, words in RANK_WORDS if counts[rank]]
    return ", ".join(parts) or "none yet"


def _sum(cases: Sequence[_Case], scope: str, entries: Sequence[Entry]) -> Summary:
    one_kind = len({case.kind for case in cases}) <= 1
    return summed(_entries(cases, entries), scope if one_kind else f"{scope}; {SEVERAL}", one_kind=one_kind)


def _groups(cases: Sequence[_Case], entries: Sequence[Entry]) -> tuple[Group, ...]:
    """Each method in each construction by itself, the most frequent first; none where there is only one."""
    kinds: dict[tuple[str, str], list[_Case]] = {}
    for case in cases:
        kinds.setdefault(case.kind, []).append(case)
    if len(kinds) <= 1:
        return ()
    groups = [
        Group(method, construction, _sum(some, f"by {method} in {construction or 'ropes of unknown make'}", entries))
        for (method, construction), some in kinds.items()
    ]
    return tuple(sorted(groups, key=lambda group: (-group.summary.made, group.method, group.construction)))


def _strength(cases: Sequence[_Case], columns: Columns, tests: Tests, demand: Demand) -> StrengthFound:
    """Of the tested splices among the cases; they are pooled only where they are of one kind and size."""
    places = {columns.place_of[splice_id] for splice_id in tests if splice_id in columns.place_of}
    tested = [(case, hits) for case in cases if places and (hits := places.intersection(case.places))]
    found = [test for _, hits in tested for place in hits for test in tests[columns.entries[place].id]]
    ropes = [case for case, _ in tested]
    return strength_found(found, demand, apart=_apart(ropes), scope=_where(ropes))


def _where(tested: Sequence[_Case]) -> str:
    """In which ropes, in words, and in which condition they were where that was not the same."""
    ranks = {case.score // RANK_STEP * RANK_STEP for case in tested}
    words = " and ".join(words for rank, words in RANK_WORDS if rank in ranks) or "in ropes alike only in part"
    conditions = dict.fromkeys(case.condition.value for case in tested)
    return words if len(conditions) <= 1 else f"{words}, {' and '.join(conditions)} ropes together"


def _apart(tested: Sequence[_Case]) -> str:
    """Why the tests of these cases may not be pooled; empty where they may."""
    if len({case.kind for case in tested}) > 1:
        return "tests of several methods or constructions are not put together"
    ropes = {case.rope.id if case.rope else "": case.rope for case in tested}
    known = [rope.rope.diameter for rope in ropes.values() if rope is not None and rope.rope is not None]
    diameters = [metres(diameter) for diameter in known if diameter is not None]
    if len(ropes) > 1 and len(diameters) < len(ropes):
        return "a rope's diameter is not known, and ropes of several sizes do not break alike"
    if diameters and max(diameters) - min(diameters) > ONE_SIZE_M:
        return "tests of ropes of several diameters are not put together"
    return ""
