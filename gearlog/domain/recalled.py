"""What recall is asked and what it answers: records, so that any report can show them."""

from __future__ import annotations

from typing import Self

import msgspec

from gearlog.domain.item import Item
from gearlog.domain.plan import PlanInputs
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Condition


class Query(msgspec.Struct, frozen=True, kw_only=True):
    """The splice that is about to be made; what is empty or None is not asked for.

    Attributes:
        rope_id: the rope's item in the log.
        maker: the rope's maker.
        model: the maker's name for the rope.
        construction: id of the construction.
        method: id of the method.
        diameter_m: the rope's diameter.
        fibre: id of the fibre of the strands or the cover.
        condition: the rope's condition.
        eye_m: wanted inside length of the eye.
    """

    rope_id: str = ""
    maker: str = ""
    model: str = ""
    construction: str = ""
    method: str = ""
    diameter_m: float | None = None
    fibre: str = ""
    condition: Condition | None = None
    eye_m: float | None = None

    @classmethod
    def of_plan(cls, inputs: PlanInputs, item: Item | None = None) -> Self:
        """What a plan's inputs ask, with maker and model of the rope's item when it is in the log."""
        return cls(
            rope_id=inputs.rope_id,
            maker=item.maker if item else "",
            model=item.model if item else "",
            construction=inputs.rope.construction,
            method=inputs.method,
            diameter_m=inputs.rope.diameter_m,
            fibre=inputs.rope.fibre,
            condition=inputs.condition,
            eye_m=inputs.eye_m,
        )


class Match(msgspec.Struct, frozen=True, kw_only=True, gc=False):
    """An earlier splice that is like the one asked for.

    Attributes:
        splice: the record.
        rope: its rope's item, or None when the log has lost it.
        score: the higher, the more alike; for ranking, not to be shown.
        why: why it matches and in what it differs, in words.
    """

    splice: Splice
    rope: Item | None
    score: int
    why: tuple[str, ...]


class Counted(msgspec.Struct, frozen=True):
    """A word and how often it was written."""

    word: str
    times: int


class Bias(msgspec.Struct, frozen=True, kw_only=True):
    """How much longer finished eyes came out than planned (m); negative is shorter.

    Attributes:
        mean_m: mean of finished minus planned.
        low_m: lower end of the 95 % confidence interval of the mean, by Student's t.
        high_m: its upper end.
        n: how many eyes were measured.
    """

    mean_m: float
    low_m: float
    high_m: float
    n: int


class Summary(msgspec.Struct, frozen=True, kw_only=True):
    """How a group of splices came out.

    Attributes:
        scope: which splices these are and what was left out, in words.
        made: how many.
        good: how many of them are good.
        with_remark: how many are usable with a remark.
        remade: how many had to be made again.
        failed: how many failed.
        cut_off: how many were cut off.
        median_minutes: of those whose time was written down; None without one or over several methods.
        timed: how many that were.
        tools: tools used in good ones, the most used first.
        difficulties: difficulties met, the most frequent first.
        eye_bias: finished against planned eye; None with fewer than two or over several methods.
    """

    scope: str
    made: int = 0
    good: int = 0
    with_remark: int = 0
    remade: int = 0
    failed: int = 0
    cut_off: int = 0
    median_minutes: float | None = None
    timed: int = 0
    tools: tuple[Counted, ...] = ()
    difficulties: tuple[Counted, ...] = ()
    eye_bias: Bias | None = None


class Recall(msgspec.Struct, frozen=True, kw_only=True):
    """What the diary knows about a splice like the one asked for.

    Attributes:
        matches: the most alike first, and of those the newest.
        summary: of the matches of this method in like ropes.
        same_rope: of those in this very rope; None when there are none.
    """

    matches: tuple[Match, ...]
    summary: Summary
    same_rope: Summary | None = None
