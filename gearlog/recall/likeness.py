"""How like an earlier splice is to the one asked for, as a rank and in words."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from gearlog.domain.item import Item
from gearlog.domain.recalled import Query
from gearlog.domain.vocabulary import Condition
from gearlog.units.measure import Length

SAME_ROPE, SAME_MODEL, ALIKE, PARTLY = 400, 300, 200, 100
"""Ranks of kinship; within a rank the points below decide, and they never add up to the next rank."""
RANK_STEP = 100
METHOD_POINTS, DIAMETER_POINTS, FIBRE_POINTS, CONDITION_POINTS, EYE_POINTS = 32, 16, 8, 4, 2
NEAR_DIAMETER_M = 0.001  # ropes within 1 mm splice alike
NEAR_EYE = 0.1  # eyes within a tenth are alike
ROUNDING_M = 1e-9  # so that 13 mm counts as within 1 mm of 12 mm
KEPT_TEXTS = 4096  # different lengths remembered in metres


@dataclass(frozen=True, slots=True)
class Kinship:
    """A rope against the query, worked out once for all its splices; None where either side is unknown."""

    same_rope: bool
    same_model: bool
    construction: bool | None
    diameter: bool | None
    fibre: bool | None
    words: tuple[str, ...]


def kinship(query: Query, rope_id: str, item: Item | None) -> Kinship:
    """How the rope of ``rope_id`` is related to the query's."""
    rope = item.rope if item else None
    same_rope = bool(query.rope_id) and rope_id == query.rope_id
    construction = _alike(query.construction, rope.construction if rope else "")
    diameter = _near(query.diameter_m, rope.diameter if rope else None)
    fibre = _alike(query.fibre, rope.cover_fibre if rope else "")
    words = () if same_rope or rope is None else (
        _difference("construction", construction, rope.construction),
        _difference("diameter", diameter, str(rope.diameter or "")),
        _difference("fibre", fibre, rope.cover_fibre),
    )  # fmt: skip
    related = not same_rope and _same_model(query, item)
    return Kinship(same_rope, related, construction, diameter, fibre, tuple(filter(None, words)))


def judge(query: Query, kin: Kinship, method: str, condition: Condition, *, eye: bool) -> tuple[int, tuple[str, ...]]:
    """The score of a splice and why; score 0 is no match."""
    same_method = _alike(query.method, method)
    same_condition = _alike(query.condition or "", condition)
    rank, reason = _rank(kin, same_method=same_method, same_condition=same_condition)
    points = (
        METHOD_POINTS * (same_method is True)
        + DIAMETER_POINTS * (kin.diameter is True)
        + FIBRE_POINTS * (kin.fibre is True)
        + CONDITION_POINTS * (same_condition is True)
        + EYE_POINTS * eye
    )
    why = (
        reason,
        "its eye was within a tenth of this one" if eye else "",
        _difference("method", same_method, method),
        *kin.words,
        _difference("condition", same_condition, condition.value),
    )
    return (rank + points if rank else 0), tuple(filter(None, why))


def _rank(kin: Kinship, *, same_method: bool | None, same_condition: bool | None) -> tuple[int, str]:
    if kin.same_rope:
        return SAME_ROPE, "the same rope"
    if kin.same_model:
        return SAME_MODEL, "the same maker and model"
    if kin.construction is not True or same_method is False:
        return 0, ""
    features = {"diameter within 1 mm": kin.diameter, "fibre": kin.fibre, "condition": same_condition}
    words = ["construction", *(["method"] if same_method else []), *(name for name, same in features.items() if same)]
    reason = f"alike in {', '.join(words)}"
    return (ALIKE if all(features.values()) else PARTLY), reason


@lru_cache(maxsize=KEPT_TEXTS)
def metres(length: Length) -> float:
    """A length in metres, worked out once for each text."""
    return length.si


def _alike(asked: str, there: str) -> bool | None:
    return asked == there if asked and there else None


def _near(asked_m: float | None, there: Length | None) -> bool | None:
    if asked_m is None or there is None:
        return None
    return abs(metres(there) - asked_m) <= NEAR_DIAMETER_M + ROUNDING_M


def _same_model(query: Query, item: Item | None) -> bool:
    if item is None or not query.maker.strip() or not query.model.strip():
        return False
    return _said(item.maker) == _said(query.maker) and _said(item.model) == _said(query.model)


def _said(words: str) -> str:
    return " ".join(words.split()).casefold()


def _difference(name: str, same: bool | None, there: str) -> str:  # noqa: FBT001 (three-valued, read at a glance)
    if same is False:
        return f"other {name}: {there}"
    return ""
