"""Where along a rope something lies now: places are kept as they were measured and follow every cut since.

A place is a distance from end A on the day on which it was written down. A cut at A makes end A anew, so what lies
beyond moves nearer to it; what lies in the part that was cut off goes with it, into the piece where that part became
one. A cut of unknown length makes the places after it unknown. What lies on the cut itself is on both sides.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import msgspec
from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.history import History, Origin, cuts_of
from gearlog.domain.inspection import Finding, Inspection
from gearlog.domain.lifecycle import BEFORE_ALL, NOT_ON_THE_ROPE, moment_made, placed_of, standing_splices
from gearlog.domain.order import Moment
from gearlog.domain.record import Record
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End

END_A = Fraction(0)
"""The place of end A itself."""


class Stretch(msgspec.Struct, frozen=True):
    """A part of a rope, or a point of it.

    Attributes:
        start: distance of its beginning from end A now (m); None where it cannot be told.
        stop: of its end, the same as ``start`` for a point.
        gone: the cut that it went with, or None while it is on the rope.
    """

    start: Fraction | None = None
    stop: Fraction | None = None
    gone: Event | None = None


class FoundAt(msgspec.Struct, frozen=True):
    """A finding and where it lies on the item that is looked at.

    Attributes:
        finding: as it was written down.
        inspection: in which it was.
        where: the place now; None for a finding that was given none.
        inherited: whether it was found before the piece was cut.
    """

    finding: Finding
    inspection: Inspection
    where: Stretch | None
    inherited: bool = False


def moved(start: Fraction, stop: Fraction, written: Moment, history: History) -> Stretch:
    """Where a stretch that was measured at ``written`` (m from end A then) lies after every cut since."""
    where = Stretch(start, stop)
    lengths = lengths_after(history)
    for moment, cut in cuts_of(history):
        if moment.is_after(written) and where.gone is None:
            where = _after_cut(where, cut, lengths[cut.id])
    return where


def _after_cut(where: Stretch, cut: Event, left: Fraction | None) -> Stretch:
    if where.start is None or where.stop is None or cut.length is None or cut.cut_end not in {End.A, End.B}:
        return Stretch()
    if cut.cut_end == End.A:
        start, stop = where.start - cut.length.exact, where.stop - cut.length.exact
        return Stretch(gone=cut) if stop < END_A else Stretch(max(start, END_A), stop)
    if left is None:
        return where
    return Stretch(gone=cut) if where.start > left else Stretch(where.start, min(where.stop, left))


def lengths_after(history: History) -> dict[str, Fraction | None]:
    """What was left of the rope after each cut (m), by the cut's id; None once it is unknown."""
    left = bought(history)
    lengths: dict[str, Fraction | None] = {}
    for _, cut in cuts_of(history):
        left = None if left is None or cut.length is None else left - cut.length.exact
        lengths[cut.id] = left
    return lengths


def bought(history: History) -> Fraction | None:
    """The rope's length as it came (m), exact; None when it is not on record."""
    rope = history.item.rope
    return rope.length_bought.exact if rope is not None and rope.length_bought is not None else None


def findings_of(history: History) -> tuple[FoundAt, ...]:
    """Every finding of a standing inspection that lies, or may lie, on the item; those of its parent first.

    Those that went with a cut are told too, with that cut.
    """
    return (*_inherited(history), *_own(history))


def _own(history: History) -> Iterator[FoundAt]:
    for place, inspection in enumerate(history.inspections):
        if not inspection.struck_because:
            written = Moment(inspection.inspected_on, inspection.created_at, place)
            for finding in inspection.findings:
                yield FoundAt(finding, inspection, _place(finding, written, history))


def _place(finding: Finding, written: Moment, history: History) -> Stretch | None:
    if finding.at is None:
        return None
    until = finding.until if finding.until is not None else finding.at
    return moved(finding.at.exact, until.exact, written, history)


def _inherited(history: History) -> Iterator[FoundAt]:
    origin = history.origin
    if origin is None:
        return
    for found in findings_of(at_the_cut(origin)):
        where = into_piece(found.where, history, origin) if found.where is not None else None
        if where is None or where.gone is not origin.cut or origin.cut is None:
            yield replace(found, where=where, inherited=True)


class SpliceAt(msgspec.Struct, frozen=True):
    """A splice between the ends and where it lies on the item that is looked at.

    Attributes:
        splice: its record, the newest version.
        where: the place now.
        inherited: whether it was made before the piece was cut.
    """

    splice: Splice
    where: Stretch
    inherited: bool = False


def splices_between(history: History) -> tuple[SpliceAt, ...]:
    """Every splice between the ends that lies, or may lie, on the item; those of its parent first.

    Those that went with a cut are told too, with that cut; what failed or was cut out is not.
    """
    return (*_inherited_splices(history), *_own_splices(history))


def _own_splices(history: History) -> Iterator[SpliceAt]:
    placed = placed_of(history.splices)
    for splice in standing_splices(history.own_splices):
        if splice.position is not None and splice.end is End.BETWEEN and splice.outcome not in NOT_ON_THE_ROPE:
            at, made = splice.position.exact, replace(moment_made(splice, placed), place=BEFORE_ALL)
            yield SpliceAt(splice, moved(at, at, made, history))


def _inherited_splices(history: History) -> Iterator[SpliceAt]:
    origin = history.origin
    if origin is None:
        return
    for found in splices_between(at_the_cut(origin)):
        where = into_piece(found.where, history, origin)
        if where.gone is not origin.cut or origin.cut is None:
            yield SpliceAt(found.splice, where, inherited=True)


def at_the_cut(origin: Origin) -> History:
    """The parent as it was the moment before the piece was cut from it."""
    parent, cut = origin.parent, origin.cut
    ordered = [event.id for _, event in cuts_of(parent)]
    done = set(ordered[: ordered.index(cut.id)] if cut is not None and cut.id in ordered else ordered)
    made = [place for place, one in enumerate(parent.splices) if _by_then(one.made_on, one, place, origin)]
    return replace(
        parent,
        events=tuple(event for event in parent.events if event.id in done),
        inspections=tuple(
            one for place, one in enumerate(parent.inspections) if _by_then(one.inspected_on, one, place, origin)
        ),
        splices=tuple(parent.splices[place] for place in made),
        taken=sum(place < parent.taken for place in made),
    )


def _by_then(on: PartialDate, record: Record, place: int, origin: Origin) -> bool:
    return not Moment(on, record.created_at, place).is_after(origin.cut_at)


def into_piece(where: Stretch, history: History, origin: Origin) -> Stretch:
    """A place on the parent before the cut as a place on the piece now; ``gone`` by that cut for what stayed behind."""
    start, length = piece_start(origin), bought(history)
    if where.gone is not None:
        return Stretch(gone=origin.cut)
    if where.start is None or where.stop is None or start is None or length is None:
        return Stretch()
    if where.stop < start or where.start > start + length:
        return Stretch(gone=origin.cut)
    begin, end = max(where.start - start, END_A), min(where.stop - start, length)
    return moved(begin, end, origin.cut_at, history)


def piece_start(origin: Origin) -> Fraction | None:
    """How far from the parent's end A the piece began before the cut (m); None where it cannot be told."""
    if origin.cut is None or origin.end is None:
        return None
    return END_A if origin.end is End.A else lengths_after(origin.parent).get(origin.cut.id)
