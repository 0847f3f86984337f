"""The log's records in the orders that services ask for, gathered anew only for the kind that has changed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from itertools import islice

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
    Order,
    SpliceHead,
    newest_first,
    ordered_events,
    ordered_inspections,
    ordered_items,
    ordered_splices,
)
from gearlog.services.lessons import Lessons
from gearlog.storage import Store
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
        self._items = Order(store, Item, ordered_items)
        self._events = Order(store, Event, ordered_events)
        self._inspections = Order(store, Inspection, ordered_inspections)
        self._splices = Order(store, Splice, ordered_splices)
        self._histories = Histories(self)
        self.lessons = Lessons(self)

    def items(self) -> Iterable[Item]:
        """Every item in order of entry."""
        return self._items().source

    def find(self, item_id: str) -> Item | None:
        """The item with this id, or None."""
        return self._items().by_id.get(item_id)

    def items_by_id(self) -> Mapping[str, Item]:
        """Every item by its id."""
        return self._items().by_id

    def item(self, item_id: str) -> Item:
        """The item with this id; raises NotFoundError."""
        found = self.find(item_id)
        if found is None:
            raise NotFoundError("this item is not in the log any more; go back to the list")
        return found

    def find_tag(self, tag: str) -> Item | None:
        """The item that bears ``tag`` (large and small letters alike), or None."""
        return self._items().by_tag.get(tag.strip().casefold())

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
        return self._items().pieces.get(item_id, ())

    def events_of(self, item_id: str) -> tuple[Event, ...]:
        """All that counts for an item in order of entry: also what follows from inspections and from its parent."""
        return self._past().counted(item_id)

    def own_events_of(self, item_id: str) -> tuple[Event, ...]:
        """The entries of an item itself in order of entry, struck ones included."""
        return self._events().by_item.get(item_id, ())

    def inspections_of(self, item_id: str) -> tuple[Inspection, ...]:
        """The inspections of an item in order of entry, struck ones included."""
        return self._inspections().by_item.get(item_id, ())

    def cut_of(self, piece_id: str) -> Event | None:
        """The cut that a piece came of, in its parent's history; None where the log does not tell."""
        return self._events().cuts.get(piece_id)

    def history_of(self, item_id: str) -> History:
        """All that is on record of an item; raises NotFoundError."""
        return self._past().of(self.item(item_id))

    def kits(self) -> tuple[Kit, ...]:
        """Every kit in order of entry."""
        return self.store.records(Kit)

    def moment(self) -> datetime:
        """The moment of an entry (UTC), later than that of every other: the order of entry is never in doubt."""
        now = self.clock.now()
        last = max(
            (records[-1].created_at for records in (self._events().source, self._inspections().source) if records),
            default=now - TICK,
        )
        return now if now > last or now.date() < last.date() else last + TICK

    def splices(self) -> Iterable[Splice]:
        """All splices in order of entry, superseded ones left out."""
        corrected = self._splices().corrected
        return (splice for splice in self._splices().source if splice.id not in corrected)

    def newest_splices(self, most: int) -> tuple[Splice, ...]:
        """The splices made last, the newest first; where the diary was not read yet, no more of it is read."""
        if self.store.has_read(Splice):
            return tuple(islice(newest_first(self.splices()), most))
        heads = self.store.heads(Splice, SpliceHead)
        replaced = {head.corrects for head in heads}
        ranked = newest_first(head for head in heads if head.id not in replaced)
        whole = (self.store.get(Splice, head.id) for head in ranked)
        return tuple(islice((splice for splice in whole if splice is not None), most))

    def splices_of(self, rope_id: str) -> tuple[Splice, ...]:
        """The splices of a rope in order of entry, superseded ones left out."""
        return self._splices().newest.get(rope_id, ())

    def versions_of(self, rope_id: str) -> tuple[Splice, ...]:
        """The same with every version before the newest, and what a piece took with it from its parent's end."""
        return self._past().versions(rope_id)

    def own_versions_of(self, rope_id: str) -> tuple[Splice, ...]:
        """Every version of the splices that were made in the rope itself, in order of entry."""
        return self._splices().versions.get(rope_id, ())

    def corrected_by(self, splice_id: str) -> str:
        """Id of the record that replaces this one, or empty."""
        return self._splices().corrected.get(splice_id, "")

    def _past(self) -> Histories:
        """Histories of what is in the log now."""
        version = self.store.version
        if version != self._version:
            self._version = version
            self._histories.forget()
        return self._histories
