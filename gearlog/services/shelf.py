"""The log's records in the orders that services ask for, gathered anew only for the kind that has changed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta

from gearlog.domain.event import Event
from gearlog.domain.history import History
from gearlog.domain.inspection import Inspection
from gearlog.domain.item import Item
from gearlog.domain.kit import Kit
from gearlog.domain.splice import Splice
from gearlog.errors import NotFoundError
from gearlog.services.clock import Clock
from gearlog.services.histories import Histories
from gearlog.services.indexes import (
    Events,
    Inspections,
    Items,
    Splices,
    ordered_events,
    ordered_inspections,
    ordered_items,
    ordered_splices,
)
from gearlog.services.lessons import Lessons
from gearlog.storage import Store
from gearlog.storage.loading import quiet
from gearlog.units.quoting import quoted

TICK = timedelta(microseconds=1)
"""What sets apart two entries that are written down in the same second."""


class Shelf:
    """Quick ways to the records of one log.

    Attributes:
        store: the log itself, for saving.
        clock: where the day and the moment come from.
        lessons: what the whole diary is asked.
    """

    def __init__(self, store: Store, clock: Clock) -> None:
        self.store = store
        self.clock = clock
        self._version: int | None = None
        self._items = Items((), {}, {}, {})
        self._events = Events((), {}, {})
        self._inspections = Inspections((), {})
        self._splices = Splices((), {}, {}, {})
        self._histories = Histories(self)
        self.lessons = Lessons(self)

    def items(self) -> Iterable[Item]:
        """Every item in order of entry."""
        self._renew()
        return self._items.source

    def find(self, item_id: str) -> Item | None:
        """The item with this id, or None."""
        self._renew()
        return self._items.by_id.get(item_id)

    def items_by_id(self) -> Mapping[str, Item]:
        """Every item by its id."""
        self._renew()
        return self._items.by_id

    def item(self, item_id: str) -> Item:
        """The item with this id; raises NotFoundError."""
        found = self.find(item_id)
        if found is None:
            raise NotFoundError("this item is not in the log any more; go back to the list")
        return found

    def find_tag(self, tag: str) -> Item | None:
        """The item that bears ``tag`` (large and small letters alike), or None."""
        self._renew()
        return self._items.by_tag.get(tag.strip().casefold())

    def by_tag(self, tag: str) -> Item:
        """The item that bears ``tag``; raises NotFoundError."""
        found = self.find_tag(tag)
        if found is None:
            raise NotFoundError(f"no item bears the tag {quoted(tag.strip())}; see the tags with: gearlog list")
        return found

    def splice(self, splice_id: str) -> Splice:
        """The splice with this id, superseded or not; raises NotFoundError."""
        found = self.store.get(Splice, splice_id)
        if found is None:
            raise NotFoundError("this splice is not in the diary any more; go back to the list")
        return found

    def parent_of(self, item: Item) -> Item | None:
        """The rope that a piece was cut from, or None."""
        return self.find(item.rope.parent_id) if item.rope else None

    def children_of(self, item_id: str) -> tuple[Item, ...]:
        """Pieces cut from an item, in order of entry."""
        self._renew()
        return self._items.pieces.get(item_id, ())

    def events_of(self, item_id: str) -> tuple[Event, ...]:
        """All that counts for an item in order of entry: also what follows from inspections and from its parent."""
        self._renew()
        return self._histories.counted(item_id)

    def own_events_of(self, item_id: str) -> tuple[Event, ...]:
        """The entries of an item itself in order of entry, struck ones included."""
        self._renew()
        return self._events.by_item.get(item_id, ())

    def inspections_of(self, item_id: str) -> tuple[Inspection, ...]:
        """The inspections of an item in order of entry, struck ones included."""
        self._renew()
        return self._inspections.by_item.get(item_id, ())

    def cut_of(self, piece_id: str) -> Event | None:
        """The cut that a piece came of, in its parent's history; None where the log does not tell."""
        self._renew()
        return self._events.cuts.get(piece_id)

    def history_of(self, item_id: str) -> History:
        """All that is on record of an item; raises NotFoundError."""
        return self._histories.of(self.item(item_id))

    def kits(self) -> tuple[Kit, ...]:
        """Every kit in order of entry."""
        return self.store.records(Kit)

    def moment(self) -> datetime:
        """The moment of an entry (UTC), later than that of every other: the order of entry is never in doubt."""
        self._renew()
        now = self.clock.now()
        last = max(
            (records[-1].created_at for records in (self._events.source, self._inspections.source) if records),
            default=now - TICK,
        )
        return now if now > last or now.date() < last.date() else last + TICK

    def splices(self) -> Iterable[Splice]:
        """All splices in order of entry, superseded ones left out."""
        self._renew()
        corrected = self._splices.corrected
        return (splice for splice in self._splices.source if splice.id not in corrected)

    def splices_of(self, rope_id: str) -> tuple[Splice, ...]:
        """The splices of a rope in order of entry, superseded ones left out."""
        self._renew()
        return self._splices.newest.get(rope_id, ())

    def versions_of(self, rope_id: str) -> tuple[Splice, ...]:
        """The same with every version before the newest, and what a piece took with it from its parent's end."""
        self._renew()
        return self._histories.versions(rope_id)

    def own_versions_of(self, rope_id: str) -> tuple[Splice, ...]:
        """Every version of the splices that were made in the rope itself, in order of entry."""
        self._renew()
        return self._splices.versions.get(rope_id, ())

    def corrected_by(self, splice_id: str) -> str:
        """Id of the record that replaces this one, or empty."""
        self._renew()
        return self._splices.corrected.get(splice_id, "")

    def _renew(self) -> None:
        version = self.store.version
        if version == self._version:
            return
        items, events, splices = (
            self.store.records(Item),
            self.store.records(Event),
            self.store.records(Splice),
        )
        inspections = self.store.records(Inspection)
        with quiet():
            if items is not self._items.source:
                self._items = ordered_items(items)
            if events is not self._events.source:
                self._events = ordered_events(events)
            if splices is not self._splices.source:
                self._splices = ordered_splices(splices)
            if inspections is not self._inspections.source:
                self._inspections = ordered_inspections(inspections)
        self._version = version
        self._histories.forget()
