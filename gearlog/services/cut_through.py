"""A cut that goes through a splice: which splices it meets, and what is to be said of it before it is saved."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from gearlog.domain.lifecycle import EndView
from gearlog.domain.reach import cuts_through, reach_of
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, Unit
from gearlog.units.along import place

OTHER = {End.A: End.B, End.B: End.A}


def met(ends: Mapping[End, EndView], end: End, cut_m: float, length_m: float | None) -> dict[End, Splice]:
    """The splices, by their ends, through which a cut of ``cut_m`` from ``end`` goes.

    ``length_m`` is the rope's length before it; where that, or how far a splice reaches, is not known, none is told.
    """
    places = {end: cut_m, OTHER[end]: None if length_m is None else length_m - cut_m}
    found = {at: (view.splice, places[at]) for at, view in ends.items() if view.splice is not None}
    return {at: splice for at, (splice, from_m) in found.items() if from_m and cuts_through(splice, Fraction(from_m))}


def words_of(through: Mapping[End, Splice], unit: Unit) -> Iterator[str]:
    """A sentence for each."""
    for end, splice in sorted(through.items()):
        told = place(float(reach_of(splice) or 0), imperial=unit is Unit.IMPERIAL)
        yield (
            f"THROUGH THE SPLICE at {end} of {splice.made_on}, which reaches {told} into the rope: no sound splice is "
            f"left on either side, its tail stays inside what is left, and {end} counts as cut off, bare."
        )
