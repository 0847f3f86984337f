"""Histories of items, put together from the log's records and kept until the log changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gearlog.domain.counting import counted
from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.history import History, Origin
from gearlog.domain.inspection import Inspection
from gearlog.domain.item import Item
from gearlog.domain.lineage import with_taken
from gearlog.domain.order import Moment
from gearlog.domain.splice import Splice

if TYPE_CHECKING:
    from gearlog.services.shelf import Shelf

AFTER_ALL = 1 << 62
"""A place in the order of records behind every other: what was entered with a cut was before it."""


class Histories:
    """What is on record of each item, its inspections and its parent's past included."""

    def __init__(self, shelf: Shelf) -> None:
        self._shelf = shelf
        self._made: dict[str, History] = {}
        self._counted: dict[str, tuple[Event, ...]] = {}
        self._alone: dict[str, tuple[tuple[Event, ...], tuple[Inspection, ...], tuple[Event, ...]]] = {}

    def forget(self) -> None:
        """Put nothing together from what has changed."""
        self._made.clear()
        self._counted.clear()

    def of(self, item: Item) -> History:
        """All that is on record of an item."""
        made = self._made.get(item.id)
        if made is None:
            made = self._made[item.id] = self._history(item, frozenset(), splices=True)
        return made

    def counted(self, item_id: str) -> tuple[Event, ...]:
        """Every entry that counts for an item, in the order of saving."""
        item = self._shelf.find(item_id)
        if item is None or self._plain(item):
            return self._shelf.own_events_of(item_id)
        if not self._parent_id(item):
            return self._counted_alone(item)
        found = self._counted.get(item_id)
        if found is None:
            found = self._counted[item_id] = counted(self._history(item, frozenset(), splices=False))
        return found

    def versions(self, item_id: str) -> tuple[Splice, ...]:
        """Every version of an item's splices, those that a piece took with it first."""
        item = self._shelf.find(item_id)
        if item is None or not self._parent_id(item):
            return self._shelf.own_versions_of(item_id)
        return self.of(item).splices

    def _counted_alone(self, item: Item) -> tuple[Event, ...]:
        """What counts for an item that was cut from nothing stands as long as its own records do."""
        events, inspections = self._shelf.own_events_of(item.id), self._shelf.inspections_of(item.id)
        kept = self._alone.get(item.id)
        if kept is None or kept[0] != events or kept[1] != inspections:
            kept = self._alone[item.id] = (events, inspections, counted(self._bare(item)))
        return kept[2]

    def _plain(self, item: Item) -> bool:
        return not self._parent_id(item) and not self._shelf.inspections_of(item.id)

    @staticmethod
    def _parent_id(item: Item) -> str:
        return item.rope.parent_id if item.rope is not None else ""

    def _bare(self, item: Item, origin: Origin | None = None) -> History:
        """The history without splices, which entries do not hang on: most starts need no splice."""
        own, inspections = self._shelf.own_events_of(item.id), self._shelf.inspections_of(item.id)
        return History(item=item, events=own, inspections=inspections, origin=origin)

    def _history(self, item: Item, above: frozenset[str], *, splices: bool) -> History:
        """``above`` are the pieces that ask for their parent; a ring, which only a damaged file holds, ends there."""
        parent = self._shelf.parent_of(item)
        origin = None
        if parent is not None and parent.id not in above and parent.id != item.id:
            origin = self._origin(item, self._history(parent, above | {item.id}, splices=splices))
        bare = self._bare(item, origin)
        return with_taken(bare, self._shelf.own_versions_of(item.id)) if splices else bare

    def _origin(self, item: Item, parent: History) -> Origin:
        cut = self._shelf.cut_of(item.id)
        if cut is None or cut.item_id != parent.item.id:
            entered = PartialDate.of(item.created_at.date())
            return Origin(parent, Moment(entered, item.created_at, AFTER_ALL), None)
        return Origin(parent, Moment(cut.happened_on, cut.created_at, AFTER_ALL), cut)
