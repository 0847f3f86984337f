"""The cut that took a splice off the rope: an entry of the rope's history, saved with the splice's record."""

from __future__ import annotations

from datetime import datetime

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.identity import new_id
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, EventKind, Outcome, label
from gearlog.errors import Fault
from gearlog.services.pieces import SAME_LENGTH, too_long
from gearlog.units.measure import Length

CUT_WITH = frozenset({Outcome.REMADE, Outcome.FAILED, Outcome.CUT_OFF, Outcome.GIVEN_UP})
"""Outcomes with which the spoiled end may have been cut off."""
END = "end"  # of the cut's kinds: an end with what was on it


def cut_faults(splice: Splice, length: Length | None, left_m: float | None) -> list[Fault]:
    """What is wrong with a cut of ``length`` told in a splice's form; ``left_m`` is the rope's length where known."""
    if length is None:
        return []
    if splice.outcome not in CUT_WITH:
        words = ", ".join(sorted(label(outcome) for outcome in CUT_WITH))
        return [Fault("cut_length", f"is filled, but the splice is {label(splice.outcome)}", f"choose one of: {words}")]
    if splice.end is End.BETWEEN:
        return [
            Fault("cut_length", "is filled, but the splice is between the ends", "record the cut on the rope's card")
        ]
    return [too_long("cut_length", left_m)] if left_m is not None and length.si > left_m + SAME_LENGTH else []


def cut_of(splice: Splice, length: Length, day: PartialDate, now: datetime) -> Event:
    """The entry: ``length`` went from the splice's end on ``day``."""
    return Event(
        id=new_id(),
        created_at=now,
        changed_at=now,
        item_id=splice.rope_id,
        kind=EventKind.CUT,
        happened_on=day,
        by=splice.made_by,
        length=length,
        cut_end=splice.end.value,
        cut_as=END,
        notes=f"with the splice of {splice.made_on}, {label(splice.outcome)}",
    )
