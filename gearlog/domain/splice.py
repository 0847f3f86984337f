"""The splice: the diary record of one that was made."""

from __future__ import annotations

import msgspec

from gearlog.domain.dates import PartialDate
from gearlog.domain.plan import Plan
from gearlog.domain.record import Record
from gearlog.domain.vocabulary import Condition, Difficulty, End, Finish, Outcome
from gearlog.units.measure import Length


class Measured(msgspec.Struct, frozen=True, kw_only=True):
    """What the tape said at one mark of the plan."""

    mark: str
    at: Length


class Splice(Record, frozen=True, kw_only=True):
    """One splice as it was really made. A correction is a new record that names the one it replaces.

    Attributes:
        rope_id: the rope's item.
        end: A, B, or between at ``position``.
        position: distance from end A, for a splice between the ends.
        method: id of the method; ``method_version`` beside it.
        plan: the whole plan as it was worked out, or None when made without one.
        made_on: when it was made.
        measured: what was measured against each mark.
        finished_eye: inside length of the eye as it came out.
        finished_length: finished length as the plan measures it, as it came out.
        tools: names of the tools used.
        minutes: how long it took.
        condition: the rope's condition.
        finish: how it was finished.
        made_by: who made it; ``checked_by`` who checked it.
        outcome: how it came out.
        difficulties: from the list; ``difficulty_words`` own words.
        ease: 1 (hard) to 5 (easy).
        photos: file references.
        corrects: id of the record that this one replaces, or empty.
        correction_reason: why.
    """

    rope_id: str
    end: End
    position: Length | None = None
    method: str
    method_version: int = 1
    plan: Plan | None = None
    made_on: PartialDate
    measured: tuple[Measured, ...] = ()
    finished_eye: Length | None = None
    finished_length: Length | None = None
    tools: tuple[str, ...] = ()
    minutes: int | None = None
    condition: Condition = Condition.NEW
    finish: tuple[Finish, ...] = ()
    made_by: str = ""
    checked_by: str = ""
    outcome: Outcome = Outcome.GOOD
    difficulties: tuple[Difficulty, ...] = ()
    difficulty_words: str = ""
    ease: int | None = None
    photos: tuple[str, ...] = ()
    corrects: str = ""
    correction_reason: str = ""
