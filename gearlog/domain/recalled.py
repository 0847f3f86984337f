"""What recall is asked and what it answers: records, so that any report can show them."""

from __future__ import annotations

from typing import Self

import msgspec

from gearlog.domain.item import Item
from gearlog.domain.plan import PlanInputs
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import StrengthTest
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


class Noted(msgspec.Struct, frozen=True):
    """A difficulty, how often it was met, and what was noted against it, the newest words first."""

    word: str
    times: int
    notes: tuple[str, ...]


class Offer(msgspec.Struct, frozen=True, kw_only=True):
    """What the diary suggests against eyes or lengths that come out of size; taken only on request.

    Attributes:
        n: how many were measured against a plan.
        bias: by how much they were off, where that can be told.
        correction_m: to be added to the marked eye or to the shortening (m); None where nothing is offered, and
            ``reason`` says why.
    """

    n: int
    bias: Bias | None = None
    correction_m: float | None = None
    reason: str


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
        given_up: how many were given up half-way.
        rate: share of good ones among all; None without any.
        rate_interval: its 95 % interval by Wilson's score.
        median_minutes: of those whose time was written down; None without one or over several methods.
        timed: how many that were.
        tools: tools used in good ones, the most used first.
        tools_remade: tools used in those that were remade, failed or were given up.
        difficulties: difficulties met, the most frequent first.
        noted: the same with what was noted against them.
        eyes: how many finished eyes were measured against a plan.
        eye_bias: finished against planned eye; None with fewer than two or over several methods.
        lengths: how many finished lengths were measured against a plan that reckons with shortening.
        shortening_bias: how much more the rope shortened over the bury than reckoned, of finished lengths that were
            measured against a plan; None likewise.
    """

    scope: str
    made: int = 0
    good: int = 0
    with_remark: int = 0
    remade: int = 0
    failed: int = 0
    cut_off: int = 0
    given_up: int = 0
    rate: float | None = None
    rate_interval: tuple[float, float] | None = None
    median_minutes: float | None = None
    timed: int = 0
    tools: tuple[Counted, ...] = ()
    tools_remade: tuple[Counted, ...] = ()
    difficulties: tuple[Counted, ...] = ()
    noted: tuple[Noted, ...] = ()
    eyes: int = 0
    eye_bias: Bias | None = None
    lengths: int = 0
    shortening_bias: Bias | None = None


class Demand(msgspec.Struct, frozen=True, kw_only=True):
    """What a lower bound of strength is to hold: this share of all such splices, with this confidence."""

    coverage: float = 0.95
    confidence: float = 0.95


class StrengthFound(msgspec.Struct, frozen=True, kw_only=True):
    """What tests of like splices say about their strength.

    Attributes:
        scope: which tests these are, or why there is no bound, in words.
        n: how many were broken.
        mean_n: mean of the breaking forces (N); None where there is no bound, so that it never stands alone.
        deviation_n: their standard deviation (N).
        lower_n: the lower bound (N): mean less k standard deviations; None with fewer than three.
        k: the one-sided normal tolerance factor.
        coverage: share of all such splices that lies above the bound, with ``confidence``.
        failed_at: where they failed, the most frequent first.
        proofs: how many held a proof load; ``proof_n`` the highest of those (N).
        tests: the tests themselves, oldest first, for a picture.
    """

    scope: str
    n: int = 0
    mean_n: float | None = None
    deviation_n: float | None = None
    lower_n: float | None = None
    k: float | None = None
    coverage: float
    confidence: float
    failed_at: tuple[Counted, ...] = ()
    proofs: int = 0
    proof_n: float | None = None
    tests: tuple[StrengthTest, ...] = ()


class Group(msgspec.Struct, frozen=True):
    """The splices of one method in one construction among the matches, summed up by themselves."""

    method: str
    construction: str
    summary: Summary


class Recall(msgspec.Struct, frozen=True, kw_only=True):
    """What the diary knows about a splice like the one asked for.

    Attributes:
        matches: the most alike first, and of those the newest.
        summary: of the matches of this method in like ropes.
        same_rope: of those in this very rope; None when there are none.
        groups: where the summary covers several methods or constructions, each of them by itself.
        strength: what tests of those splices say.
    """

    matches: tuple[Match, ...]
    summary: Summary
    same_rope: Summary | None = None
    groups: tuple[Group, ...] = ()
    strength: StrengthFound | None = None
