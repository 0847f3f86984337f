"""The log's records in the orders that services ask for, gathered anew only for the kind that has changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TypeVar

import msgspec

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.splice import Splice
from gearlog.errors import NotFoundError
from gearlog.services.clock import Clock
from gearlog.storage import Store
from gearlog.storage.loading import quiet
from gearlog.units.quoting import quoted

Kept = TypeVar("Kept", Event, Item, Splice)


class _Items(msgspec.Struct, frozen=True):
    """Items by id and by tag in small letters, and pieces by what they were cut from."""

    source: tuple[Item, ...]
    by_id: Mapping[str, Item]
    by_tag: Mapping[str, Item]
    pieces: Mapping[str, tuple[Item, ...]]


class _Splices(msgspec.Struct, frozen=True):
    """Splices by rope, newest versions and all versions, and which record replaces which."""

    source: tuple[Splice, ...]
    newest: Mapping[str, tuple[Splice, ...]]
    versions: Mapping[str, tuple[Splice, ...]]
    corrected: Mapping[str, str]


class _Events(msgspec.Struct, frozen=True):
    """Events by item."""

    source: tuple[Event, ...]
    by_item: Mapping[str, tuple[Event, ...]]


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
        self._items = _Items((), {}, {}, {})
        self._events = _Events((), {})
        self._splices = _Splices((), {}, {}, {})

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
        """The history of an item in order of entry, struck entries included."""
        self._renew()
        return self._events.by_item.get(item_id, ())

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
        """The same with every version before the newest, for what depends on when a splice was first written down."""
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
        with quiet():
            if items is not self._items.source:
                self._items = _ordered_items(items)
            if events is not self._events.source:
                self._events = _Events(events, _grouped(events, lambda event: event.item_id))
            if splices is not self._splices.source:
                self._splices = _ordered_splices(splices)
        self._version = version


def _ordered_items(items: tuple[Item, ...]) -> _Items:
    return _Items(
        source=items,
        by_id={item.id: item for item in items},
        by_tag={item.tag.casefold(): item for item in items},
        pieces=_grouped((item for item in items if item.rope and item.rope.parent_id), _parent_id),
    )


def _parent_id(item: Item) -> str:
    return item.rope.parent_id if item.rope else ""


def _ordered_splices(splices: tuple[Splice, ...]) -> _Splices:
    corrected = {splice.corrects: splice.id for splice in splices if splice.corrects}
    newest = _grouped((one for one in splices if one.id not in corrected), lambda splice: splice.rope_id)
    return _Splices(
        source=splices,
        newest=newest,
        versions=_versions(splices, corrected) if corrected else newest,
        corrected=corrected,
    )


def _versions(splices: tuple[Splice, ...], corrected: Mapping[str, str]) -> dict[str, tuple[Splice, ...]]:
    """All versions by the rope that the newest one names: a correction may name another rope."""
    ropes = {splice.id: splice.rope_id for splice in splices}
    return _grouped(splices, lambda splice: ropes[_newest(splice.id, corrected)])


def _newest(splice_id: str, corrected: Mapping[str, str]) -> str:
    """The id of the newest version; a ring of corrections, which only a damaged file holds, ends at its first."""
    seen = {splice_id}
    while (later := corrected.get(splice_id)) is not None and later not in seen:
        splice_id = later
        seen.add(later)
    return splice_id


def _grouped(records: Iterable[Kept], key: Callable[[Kept], str]) -> dict[str, tuple[Kept, ...]]:
    groups: dict[str, list[Kept]] = {}
    for record in records:
        groups.setdefault(key(record), []).append(record)
    return {owner: tuple(group) for owner, group in groups.items()}
