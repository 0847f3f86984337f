"""Find the earlier splices that are like the one about to be made, the most alike first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from operator import attrgetter

from gearlog.domain.item import Item
from gearlog.domain.recalled import Match, Query, Recall, Summary
from gearlog.domain.splice import Splice
from gearlog.recall.likeness import ALIKE, RANK_STEP, SAME_MODEL, SAME_ROPE, eye_is_near, judge, kinship
from gearlog.recall.summing import summed

RANK_WORDS = ((SAME_ROPE, "in this rope"), (SAME_MODEL, "of the same maker and model"), (ALIKE, "in ropes all alike"))

ORDER = (attrgetter("splice.created_at"), attrgetter("splice.made_on.text"), attrgetter("score"))
"""Least weight first: sorting once for each is faster than by all at once, and keeps the earlier order."""


def recall(query: Query, splices: Sequence[Splice], ropes: Mapping[str, Item]) -> Recall:
    """What the diary knows: ranked matches and what they add up to. ``ropes`` are the items by id."""
    matches = list(_matches(query, standing(splices), ropes))
    for key in ORDER:
        matches.sort(key=key, reverse=True)
    here = [match for match in matches if match.score >= SAME_ROPE and _asked(query, match)]
    return Recall(
        matches=tuple(matches),
        summary=_summary(query, matches),
        same_rope=_sum(here, "in this rope") if here else None,
    )


def standing(splices: Iterable[Splice]) -> list[Splice]:
    """The records that no later record corrects."""
    records = list(splices)
    replaced = {record.corrects for record in records if record.corrects != record.id}
    return [record for record in records if record.id not in replaced]


def _matches(query: Query, splices: Iterable[Splice], ropes: Mapping[str, Item]) -> Iterator[Match]:
    """Ropes and combinations are judged once each: a diary has far fewer of them than splices."""
    kin = {}
    judged = {}
    for splice in splices:
        rope_id = splice.rope_id
        item = ropes.get(rope_id)
        if rope_id not in kin:
            kin[rope_id] = kinship(query, rope_id, item)
        near = eye_is_near(query, splice)
        case = (rope_id, splice.method, splice.condition, near)
        if case not in judged:
            judged[case] = judge(query, kin[rope_id], splice.method, splice.condition, eye=near)
        score, why = judged[case]
        if score:
            yield Match(splice=splice, rope=item, score=score, why=why)


def _asked(query: Query, match: Match) -> bool:
    return not query.method or match.splice.method == query.method


def _summary(query: Query, matches: Sequence[Match]) -> Summary:
    """Of the near matches; only without one of the ropes that are alike in part, and then it is said."""
    asked = [match for match in matches if _asked(query, match)]
    near = [match for match in asked if match.score >= ALIKE]
    if near or not asked:
        return _sum(near, _scope(near))
    return _sum(asked, "none in a like rope; these are in ropes alike only in part")


def _scope(matches: Sequence[Match]) -> str:
    """How many of each rank, in words."""
    counts = Counter([match.score // RANK_STEP * RANK_STEP for match in matches])
    parts = [f"{counts[rank]} {words}" for rank, words in RANK_WORDS if counts[rank]]
    return ", ".join(parts) or "none yet"


def _sum(matches: Sequence[Match], scope: str) -> Summary:
    ropes = {match.splice.rope_id: match for match in matches}
    one_kind = (
        len({match.splice.method for match in matches}) <= 1 and len(set(map(_construction, ropes.values()))) <= 1
    )
    if not one_kind:
        scope += "; several methods or constructions together, so neither minutes nor eyes are averaged"
    return summed([match.splice for match in matches], scope, one_kind=one_kind)


def _construction(match: Match) -> str:
    return match.rope.rope.construction if match.rope and match.rope.rope else ""
