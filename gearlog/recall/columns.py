"""The diary in columns, newest first, so that twenty thousand splices are asked within a screen's moment.

What a question needs of a splice is read from its record once; a changed diary takes over what it has of the others.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from operator import attrgetter

from gearlog.domain.plan import Plan
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Difficulty, Outcome
from gearlog.recall.likeness import metres

Case = tuple[str, str, str]
"""Rope, method and condition: all splices of one case are alike to a question, but for their eyes."""


@dataclass(frozen=True, slots=True, eq=False)
class Kind:
    """What is counted of a splice; one object for all splices that are the same in it, so that counting is quick."""

    outcome: Outcome
    tools: tuple[str, ...]
    difficulties: tuple[Difficulty, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """What is asked of one splice.

    Attributes:
        order: sorts newest first when reversed.
        eye_m: the eye then planned, or None.
        eye_off_m: finished less marked-out eye, or None.
        extra_shortening_m: how much more the rope shortened than reckoned, or None.
        notes: own words about what was difficult.
    """

    splice: Splice
    id: str
    order: tuple[str, datetime]
    case: Case
    kind: Kind
    minutes: int | None
    eye_m: float | None
    eye_off_m: float | None
    extra_shortening_m: float | None
    notes: str


class _Kinds(dict[tuple[Outcome, tuple[str, ...], tuple[Difficulty, ...]], Kind]):
    """Kinds by what they hold, made when first asked for."""

    def __missing__(self, key: tuple[Outcome, tuple[str, ...], tuple[Difficulty, ...]]) -> Kind:
        made = self[key] = Kind(*key)
        return made


class Columns:
    """The standing splices of a diary.

    Attributes:
        entries: newest first.
        eyes: the eyes then planned (m), in the same order.
        place_of: where each splice stands among the entries, by its id.
        places: of each case, where its splices stand among the entries, ascending.
    """

    def __init__(self, splices: Iterable[Splice], before: Columns | None = None) -> None:
        """``splices`` are those that no later record corrects; ``before`` is what was made of the diary as it was."""
        known = {entry.splice.id: entry for entry in before.entries} if before else {}
        self._kinds: _Kinds = before._kinds if before else _Kinds()
        entries = [_entry(splice, known.get(splice.id), self._kinds) for splice in splices]
        entries.reverse()  # of two written down in the same second the later one comes first too
        entries.sort(key=attrgetter("order"), reverse=True)
        self.entries: Sequence[Entry] = entries
        self.eyes = [entry.eye_m for entry in entries]
        self.place_of = {entry.id: place for place, entry in enumerate(entries)}
        self.places: dict[Case, list[int]] = {}
        for place, entry in enumerate(entries):
            self.places.setdefault(entry.case, []).append(place)


def _entry(splice: Splice, known: Entry | None, kinds: _Kinds) -> Entry:
    if known is not None and known.splice is splice:
        return known
    plan = splice.plan
    inputs = plan.inputs if plan else None
    marked = inputs.marked_eye_m if inputs else None
    finished = splice.finished_eye
    return Entry(
        splice=splice,
        id=splice.id,
        order=(splice.made_on.text, splice.created_at),
        case=(splice.rope_id, splice.method, splice.condition.value),
        kind=kinds[splice.outcome, splice.tools, splice.difficulties],
        minutes=splice.minutes,
        eye_m=inputs.eye_m if inputs else None,
        eye_off_m=metres(finished) - marked if finished is not None and marked is not None else None,
        extra_shortening_m=_extra_shortening(splice),
        notes="; ".join(filter(None, (splice.difficulty_words, splice.notes))) if splice.difficulties else "",
    )


def _extra_shortening(splice: Splice) -> float | None:
    """Planned less finished length, for each of the eyes that share it.

    A length from crown to crown is also short by what the eye itself came out smaller than asked: that is the eye's own
    correction and is taken off, so that with both corrections taken nothing is corrected twice. What was corrected is
    counted to it, so that it is not learned away.
    """
    plan = splice.plan
    if splice.finished_length is None or plan is None or plan.finished is None or plan.shortening is None:
        return None
    eyes = 2 if plan.inputs.both_ends else 1
    missing = plan.finished.finished_m - metres(splice.finished_length)
    if splice.finished_eye is not None and plan.inputs.eye_m is not None:
        missing -= _crowns(plan) * (plan.inputs.eye_m - metres(splice.finished_eye))
    extra = missing / eyes
    return extra + plan.inputs.shortening_correction_m


def _crowns(plan: Plan) -> int:
    """Of how many eyes the crown is an end of the finished length; others are measured from throats or rope's ends."""
    if plan.inputs.both_ends:
        return 2
    return 1 if plan.shape == "sling" and plan.inputs.eye_m is not None else 0
