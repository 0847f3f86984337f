"""The history of one item: its own entries, its inspections and splices, and the past of what it was cut from."""

from __future__ import annotations

import msgspec

from gearlog.domain.event import Event
from gearlog.domain.inspection import Inspection
from gearlog.domain.item import Item
from gearlog.domain.order import Moment
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, EventKind


class Origin(msgspec.Struct, frozen=True):
    """Where a piece comes from.

    Attributes:
        parent: the history of what it was cut from, all of it.
        cut_at: the moment of the cut.
        cut: the cut's entry in the parent's history, also a struck one; None where an older log does not name it.
    """

    parent: History
    cut_at: Moment
    cut: Event | None

    @property
    def end(self) -> End | None:
        """The parent's end that went with the piece, or None when it is not known; a struck cut tells nothing."""
        known = self.cut is not None and not self.cut.struck_because and self.cut.cut_end in {End.A, End.B}
        return End(self.cut.cut_end) if known and self.cut is not None else None


class History(msgspec.Struct, frozen=True):
    """All that is on record of one item, each list in the order in which it was saved.

    Attributes:
        item: the item.
        events: its own entries, struck ones included.
        inspections: its inspections, struck ones included.
        splices: every version of its splices, those that it took with it from its parent's end first.
        taken: how many of them it took with it.
        origin: of a piece, where it comes from.
    """

    item: Item
    events: tuple[Event, ...] = ()
    inspections: tuple[Inspection, ...] = ()
    splices: tuple[Splice, ...] = ()
    taken: int = 0
    origin: Origin | None = None

    @property
    def own_splices(self) -> tuple[Splice, ...]:
        """Every version of the splices that were made in it."""
        return self.splices[self.taken :]


def cuts_of(history: History) -> list[tuple[Moment, Event]]:
    """The standing cuts of the rope itself, in the order in which they were made."""
    cuts = [
        (Moment(event.happened_on, event.created_at, place), event)
        for place, event in enumerate(history.events)
        if event.kind is EventKind.CUT and not event.struck_because
    ]
    return sorted(cuts, key=lambda pair: (pair[0].day.earliest(), pair[0].saved, pair[0].place))
