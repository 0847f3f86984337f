"""Where an item stands: its status, its length now and its ends, derived from its history and never typed.

Decided on the safe side:
- after a fall arrest, a shock load or a contact with chemicals an item is quarantined, and only an explicit
  release frees it; an examination alone does not;
- what was lost and is found again is quarantined too, since nobody knows what happened to it meanwhile;
- a retirement or destruction stands until its entry is struck out; nothing else takes it back;
- a release frees from what came before it, never from what is dated after it, nor from what was written down after
  it: who released it did not know of that;
- where findings stop an item, only releases that name every one of them free it;
- a length that was not measured is unknown, not zero;
- a cut whose end is unknown shortens the rope but says nothing of its ends;
- a cut through a splice, from whichever end, leaves no splice at that end.

Sequences of records are given in the order in which they were saved.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

import msgspec
from msgspec.structs import replace

from gearlog.domain.event import Event
from gearlog.domain.finishes import is_finish, is_whipping
from gearlog.domain.item import Item
from gearlog.domain.order import Moment
from gearlog.domain.reach import cuts_through
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, EndState, EventKind, Outcome, Status, label

QUARANTINING = frozenset(
    {
        EventKind.FALL_ARRESTED,
        EventKind.SHOCK_LOADED,
        EventKind.CHEMICAL_CONTACT,
        EventKind.QUARANTINED,
        EventKind.FOUND,
    }
)
"""What takes an item out of use until it is released."""
BEFORE_ALL = -1  # a place in the order of records that no record has
NOT_ON_THE_ROPE = {Outcome.CUT_OFF: "was cut off", Outcome.FAILED: "failed", Outcome.GIVEN_UP: "was given up"}
"""Outcomes after which no splice stands there, in words."""
CLEARING = frozenset({EventKind.EXAMINED, EventKind.RELEASED})
"""A competent person looked at it and found it fit."""
FINAL = frozenset({EventKind.RETIRED, EventKind.DESTROYED})
"""What nothing but its being struck out takes back."""
_STATUS_CHANGING = QUARANTINING | FINAL | {EventKind.LOST}


class EndView(msgspec.Struct, frozen=True):
    """How one end of a rope is now.

    Attributes:
        state: bare, whipped, knotted, sewn or spliced.
        splice: the splice that stands there, or None.
        why: from what this follows, in words.
    """

    state: EndState
    splice: Splice | None
    why: str

    @property
    def words(self) -> str:
        """State and reason, neither said twice."""
        state = label(self.state)
        return self.why if self.why.startswith(state) else f"{state}, {self.why}"


def status_of(events: Sequence[Event]) -> Status:
    """Where an item with this history stands; struck entries count for nothing."""
    kinds = {event.kind for event in events if not event.struck_because}
    if not kinds & _STATUS_CHANGING:
        return Status.IN_SERVICE
    if EventKind.DESTROYED in kinds:
        return Status.DESTROYED
    if EventKind.RETIRED in kinds:
        return Status.RETIRED
    if still_open(events, frozenset({EventKind.LOST}), frozenset({EventKind.FOUND})):
        return Status.LOST
    return Status.QUARANTINED if open_quarantines(events) else Status.IN_SERVICE


def open_quarantines(events: Sequence[Event]) -> tuple[Event, ...]:
    """The standing entries that keep an item in quarantine."""
    stand = _standing(events)
    releases = [(moment, event) for moment, event in stand if event.kind is EventKind.RELEASED]
    return tuple(
        event
        for moment, event in stand
        if event.kind in QUARANTINING
        and not _ended(moment, event, [one for one in releases if _written_after(one[0], moment)])
    )


def open_findings(events: Sequence[Event]) -> tuple[str, ...]:
    """Ids of the findings that keep an item in quarantine; a release must name each of them."""
    return tuple(dict.fromkeys(finding for event in open_quarantines(events) for finding in event.findings))


def still_open(events: Sequence[Event], causes: frozenset[EventKind], ends: frozenset[EventKind]) -> tuple[Event, ...]:
    """The causes that nothing of the ending kinds came after, or whose findings those have not all resolved."""
    stand = _standing(events)
    endings = [(moment, event) for moment, event in stand if event.kind in ends]
    return tuple(event for moment, event in stand if event.kind in causes and not _ended(moment, event, endings))


def _written_after(later: Moment, earlier: Moment) -> bool:
    return (later.saved, later.place) > (earlier.saved, earlier.place)


def _ended(moment: Moment, cause: Event, endings: Sequence[tuple[Moment, Event]]) -> bool:
    after = [end for when, end in endings if when.is_after(moment)]
    return bool(after) and set(cause.findings) <= {finding for end in after for finding in end.findings}


def _standing(events: Sequence[Event]) -> list[tuple[Moment, Event]]:
    return [
        (Moment(event.happened_on, event.created_at, place), event)
        for place, event in enumerate(events)
        if not event.struck_because
    ]


def length_now(item: Item, events: Sequence[Event], splices: Sequence[Splice]) -> float | None:
    """The rope's length now (m): as bought, less every cut; a piece cut from it is a cut.

    None where it is unknown; ``length_gap`` says why. Rope that lies in splices is still there.
    """
    if length_gap(item, events, splices) or item.rope is None or item.rope.length_bought is None:
        return None
    taken = sum((event.length.exact for event in _cuts(events) if event.length), Fraction(0))
    return float(max(item.rope.length_bought.exact - taken, Fraction(0)))


def length_gap(item: Item, events: Sequence[Event], splices: Sequence[Splice]) -> str:
    """Why the rope's length now is unknown, in words; empty when it is known."""
    if item.rope is None:
        return "it is no rope"
    if item.rope.length_bought is None:
        return "its length as bought is not on record"
    for event in _cuts(events):
        if event.length is None:
            return f"the cut of {event.happened_on} has no length"
    for splice in standing_splices(splices):
        if splice.outcome is Outcome.CUT_OFF and not any(_took_off(cut, splice) for cut in _cuts(events)):
            return f"the splice of {splice.made_on} at {splice.end} was cut off and no cut is on record"
    return ""


def _cuts(events: Iterable[Event]) -> list[Event]:
    return [event for event in events if event.kind is EventKind.CUT and not event.struck_because]


def _took_off(cut: Event, splice: Splice) -> bool:
    same_place = splice.end is End.BETWEEN or cut.cut_end == splice.end
    return same_place and cut.happened_on.latest() >= splice.made_on.earliest()


def standing_splices(splices: Sequence[Splice]) -> tuple[Splice, ...]:
    """The splices that no correction has replaced, in the order given."""
    replaced = {splice.corrects for splice in splices if splice.corrects}
    return tuple(splice for splice in splices if splice.id not in replaced)


def end_states(item: Item, splices: Sequence[Splice], events: Sequence[Event]) -> Mapping[End, EndView]:
    """Both ends of a rope: its newest standing splice, unless that was cut off or failed, or the end was cut.

    A whipping keeps a bare end; it never stands for the splice that it was put on. Without any splice or cut on record
    an end is as it came. Empty for what is no rope.
    """
    if item.rope is None:
        return {}
    came = {End.A: item.rope.end_a, End.B: item.rope.end_b}
    views = {end: _end_view(end, state, splices, events) for end, state in came.items()}
    return {end: _if_whole(view, item, splices, events) for end, view in views.items()}


def _if_whole(view: EndView, item: Item, splices: Sequence[Splice], events: Sequence[Event]) -> EndView:
    """The end as it is seen, unless less rope is left than its splice reaches: then some cut went through that."""
    splice = view.splice
    left = length_now(item, events, splices) if splice is not None else None
    if splice is None or left is None or not cuts_through(splice, Fraction(left)):
        return view
    inherited = splice.rope_id != item.id
    if not inherited and not _cut_after(splice, splices, events, at_any_end=True):
        return view
    return EndView(EndState.BARE, None, f"cut through the splice of {splice.made_on}")


def _end_view(end: End, came: EndState, splices: Sequence[Splice], events: Sequence[Event]) -> EndView:
    view = _spliced_view(end, came, splices, events)
    if view.state is not EndState.BARE:
        return view
    whipping = _newest(end, splices, whippings=True)
    if whipping is None or not finish_stands(whipping, splices, events):
        return view
    return EndView(EndState.WHIPPED, None, f"whipped {whipping.made_on}")


def finish_stands(finish: Splice, splices: Sequence[Splice], events: Sequence[Event]) -> bool:
    """Whether a whipping, a stitch or a seizing is still at its end: it did not fail and the end was not cut since."""
    return finish.outcome not in NOT_ON_THE_ROPE and not _cut_after(finish, splices, events)


def _spliced_view(end: End, came: EndState, splices: Sequence[Splice], events: Sequence[Event]) -> EndView:
    """The end without what whippings add to it."""
    newest = _newest(end, splices)
    if newest is None:
        if any(event.cut_end == end for event in _cuts(events)):
            return EndView(EndState.BARE, None, "cut since it came")
        return EndView(came, None, "as it came")
    if newest.outcome in NOT_ON_THE_ROPE:
        return EndView(EndState.BARE, None, f"the splice of {newest.made_on} {NOT_ON_THE_ROPE[newest.outcome]}")
    if _cut_after(newest, splices, events):
        how = "cut through" if _is_inside(newest, splices, events) else "cut since"
        return EndView(EndState.BARE, None, f"{how} the splice of {newest.made_on}")
    return EndView(EndState.SPLICED, newest, f"spliced {newest.made_on}")


def _newest(end: End, splices: Sequence[Splice], *, whippings: bool = False) -> Splice | None:
    """The newest splice at an end, or its newest whipping; stitches and seizings change nothing of an end."""
    newest: tuple[Moment, Splice] | None = None
    placed = placed_of(splices)
    for splice in standing_splices(splices):
        if splice.end is end and (is_whipping(splice) if whippings else not is_finish(splice)):
            made = moment_made(splice, placed)
            if newest is None or made.is_after(newest[0]):
                newest = (made, splice)
    return newest[1] if newest is not None else None


def _cut_after(splice: Splice, splices: Sequence[Splice], events: Sequence[Event], *, at_any_end: bool = False) -> bool:
    """Whether the splice's end, or either, was cut since it was made; in doubt it was."""
    return any(at_any_end or cut.cut_end == splice.end for cut in _cuts_after(splice, splices, events))


def _is_inside(splice: Splice, splices: Sequence[Splice], events: Sequence[Event]) -> bool:
    """Whether all that was cut off the splice's end since it was made is less than it reaches.

    Never of one that was remade: what was cut off with it may have been taken apart first.
    """
    if splice.outcome is Outcome.REMADE:
        return False
    lengths = [cut.length for cut in _cuts_after(splice, splices, events) if cut.cut_end == splice.end]
    known = [length.exact for length in lengths if length is not None]
    return len(known) == len(lengths) and cuts_through(splice, sum(known, Fraction(0)))


def _cuts_after(splice: Splice, splices: Sequence[Splice], events: Sequence[Event]) -> list[Event]:
    made = replace(moment_made(splice, placed_of(splices)), place=BEFORE_ALL)
    stand = _standing(events)
    return [event for moment, event in stand if event.kind is EventKind.CUT and not made.is_after(moment)]


def placed_of(splices: Sequence[Splice]) -> Mapping[str, tuple[int, Splice]]:
    """Splices by id, with their places in the order of the records."""
    return {one.id: (place, one) for place, one in enumerate(splices)}


def moment_made(splice: Splice, by_id: Mapping[str, tuple[int, Splice]]) -> Moment:
    """When it was made; a correction counts as written down when the first version was."""
    place, first = by_id[splice.id]
    seen = {splice.id}
    while first.corrects in by_id and first.corrects not in seen:
        seen.add(first.corrects)
        place, first = by_id[first.corrects]
    return Moment(splice.made_on, first.created_at, place)
