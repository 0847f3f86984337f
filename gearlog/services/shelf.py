"""The log's records in the orders that services ask for, gathered once for each state of the log."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.splice import Splice
from gearlog.errors import NotFoundError
from gearlog.services.clock import Clock
from gearlog.storage import Store
from gearlog.units.quoting import quoted

Kept = TypeVar("Kept", Event, Item, Splice)


@dataclass(frozen=True, slots=True)
class _Order:
    """Indexes of one state of the log."""

    items: Mapping[str, Item]
    tags: Mapping[str, Item]
    events: Mapping[str, tuple[Event, ...]]
    splices: Mapping[str, tuple[Splice, ...]]
    versions: Mapping[str, tuple[Splice, ...]]
    corrected: Mapping[str, str]
    children: Mapping[str, tuple[Item, ...]]


class Shelf:
    """Quick ways to the records of one log.

    Attributes:
        store: the log itself, for saving.
        clock: where the day and the moment come from.
    """

    def __init__(self, store: Store, clock: Clock) -> None:
        self.store = store
        self.clock = clock
        self._version: int | None = None
        self._order = _Order({}, {}, {}, {}, {}, {}, {})

    def order(self) -> _Order:
        """The indexes, renewed when the log has changed."""
        version = self.store.version
        if version != self._version:
            self._order, self._version = _ordered(self.store), version
        return self._order

    def items(self) -> Iterable[Item]:
        """Every item in order of entry."""
        return self.order().items.values()

    def item(self, item_id: str) -> Item:
        """The item with this id; raises NotFoundError."""
        found = self.order().items.get(item_id)
        if found is None:
            raise NotFoundError("this item is not in the log any more; go back to the list")
        return found

    def find_tag(self, tag: str) -> Item | None:
        """The item that bears ``tag`` (large and small letters alike), or None."""
        return self.order().tags.get(tag.strip().casefold())

    def by_tag(self, tag: str) -> Item:
        """The item that bears ``tag``; raises NotFoundError."""
        found = self.find_tag(tag)
        if found is None:
            raise NotFoundError(
                f"no item bears the tag {quoted(tag.strip())}; see the tags with: gearlog list"
            )
        return found

    def splice(self, splice_id: str) -> Splice:
        """The splice with this id, superseded or not; raises NotFoundError."""
        found = self.store.get(Splice, splice_id)
        if found is None:
            raise NotFoundError("this splice is not in the diary any more; go back to the list")
        return found

    def events_of(self, item_id: str) -> tuple[Event, ...]:
        """The history of an item in order of entry, struck entries included."""
        return self.order().events.get(item_id, ())

    def splices_of(self, rope_id: str) -> tuple[Splice, ...]:
        """The splices of a rope in order of entry, superseded ones left out."""
        return self.order().splices.get(rope_id, ())

    def versions_of(self, rope_id: str) -> tuple[Splice, ...]:
        """The same with every version before the newest, for what depends on when a splice was first written down."""
        return self.order().versions.get(rope_id, ())

    def splices(self) -> Iterable[Splice]:
        """All splices in order of entry, superseded ones left out."""
        corrected = self.order().corrected
        return (splice for splice in self.store.records(Splice) if splice.id not in corrected)

    def corrected_by(self, splice_id: str) -> str:
        """Id of the record that replaces this one, or empty."""
        return self.order().corrected.get(splice_id, "")

    def children_of(self, item_id: str) -> tuple[Item, ...]:
        """Pieces cut from an item, in order of entry."""
        return self.order().children.get(item_id, ())


def _ordered(store: Store) -> _Order:
    items = store.records(Item)
    splices = store.records(Splice)
    corrected = {splice.corrects: splice.id for splice in splices if splice.corrects}
    ropes = {splice.id: splice.rope_id for splice in splices}
    return _Order(
        items={item.id: item for item in items},
        tags={item.tag.casefold(): item for item in items},
        events=_grouped(store.records(Event), lambda event: event.item_id),
        splices=_grouped((one for one in splices if one.id not in corrected), lambda splice: splice.rope_id),
        versions=_grouped(splices, lambda splice: ropes[_newest(splice.id, corrected)]),
        corrected=corrected,
        children=_grouped((item for item in items if item.rope and item.rope.parent_id), _parent_of),
    )


def _newest(splice_id: str, corrected: Mapping[str, str]) -> str:
    """The id of the newest version; a ring of corrections, which only a damaged file holds, ends at its first."""
    seen = {splice_id}
    while (later := corrected.get(splice_id)) is not None and later not in seen:
        splice_id = later
        seen.add(later)
    return splice_id


def _parent_of(item: Item) -> str:
    return item.rope.parent_id if item.rope else ""


def _grouped(records: Iterable[Kept], key: Callable[[Kept], str]) -> dict[str, tuple[Kept, ...]]:
    groups: dict[str, list[Kept]] = defaultdict(list)
    for record in records:
        groups[key(record)].append(record)
    return {owner: tuple(group) for owner, group in groups.items()}
