"""Orders of a log's records: by id, by tag, by item; made anew only for the kind that changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Generic, TypeVar

import msgspec

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.inspection import Inspection
from gearlog.domain.item import Item
from gearlog.domain.record import Record
from gearlog.domain.splice import Splice
from gearlog.storage import Store
from gearlog.storage.loading import quiet

Kept = TypeVar("Kept", Event, Inspection, Item, Splice)
OfKind = TypeVar("OfKind", bound=Record)
Ordered = TypeVar("Ordered")


class SpliceHead(msgspec.Struct, frozen=True):
    """What of a splice tells when it was made, and whether another record replaces it; the rest is not read."""

    id: str
    made_on: PartialDate
    corrects: str = ""


class Order(Generic[OfKind, Ordered]):
    """The records of one kind in their orders: read when they are first asked for, made anew when they changed."""

    def __init__(self, store: Store, kind: type[OfKind], make: Callable[[tuple[OfKind, ...]], Ordered]) -> None:
        self._store = store
        self._kind = kind
        self._make = make
        self._version: int | None = None
        self._stand: tuple[tuple[OfKind, ...], Ordered] | None = None

    def __call__(self) -> Ordered:
        """The orders as the log is now."""
        version, stand = self._store.version, self._stand
        if stand is None or version != self._version:
            source = self._store.records(self._kind)
            if stand is None or source is not stand[0]:
                with quiet():
                    stand = self._stand = (source, self._make(source))
            self._version = version
        return stand[1]


class Items(msgspec.Struct, frozen=True):
    """Items by id and by tag in small letters, and pieces by what they were cut from."""

    source: tuple[Item, ...]
    by_id: Mapping[str, Item]
    by_tag: Mapping[str, Item]
    pieces: Mapping[str, tuple[Item, ...]]


class Splices(msgspec.Struct, frozen=True):
    """Splices by rope, newest versions and all versions, and which record replaces which."""

    source: tuple[Splice, ...]
    newest: Mapping[str, tuple[Splice, ...]]
    versions: Mapping[str, tuple[Splice, ...]]
    corrected: Mapping[str, str]


class Events(msgspec.Struct, frozen=True):
    """Events by item, and cuts by the piece that came of them."""

    source: tuple[Event, ...]
    by_item: Mapping[str, tuple[Event, ...]]
    cuts: Mapping[str, Event]


class Inspections(msgspec.Struct, frozen=True):
    """Inspections by item."""

    source: tuple[Inspection, ...]
    by_item: Mapping[str, tuple[Inspection, ...]]


def ordered_items(items: tuple[Item, ...]) -> Items:
    """Items in their orders."""
    return Items(
        source=items,
        by_id={item.id: item for item in items},
        by_tag=_by_tag(items),
        pieces=grouped((item for item in items if item.rope and item.rope.parent_id), _parent_id),
    )


def _by_tag(items: tuple[Item, ...]) -> dict[str, Item]:
    """Items by their tags in small letters; a former tag still leads to its item until another one bears it."""
    former = {tag.casefold(): item for item in items for tag in item.former_tags}
    return former | {item.tag.casefold(): item for item in items}


def ordered_events(events: tuple[Event, ...]) -> Events:
    """Events in their orders."""
    cuts = {event.piece_id: event for event in events if event.piece_id}
    return Events(events, grouped(events, lambda event: event.item_id), cuts)


def ordered_inspections(inspections: tuple[Inspection, ...]) -> Inspections:
    """Inspections in their orders."""
    return Inspections(inspections, grouped(inspections, lambda inspection: inspection.item_id))


def _parent_id(item: Item) -> str:
    return item.rope.parent_id if item.rope else ""


def ordered_splices(splices: tuple[Splice, ...]) -> Splices:
    """Splices in their orders."""
    corrected = {splice.corrects: splice.id for splice in splices if splice.corrects}
    newest = grouped((one for one in splices if one.id not in corrected), lambda splice: splice.rope_id)
    return Splices(
        source=splices,
        newest=newest,
        versions=_versions(splices, corrected) if corrected else newest,
        corrected=corrected,
    )


def _versions(splices: tuple[Splice, ...], corrected: Mapping[str, str]) -> dict[str, tuple[Splice, ...]]:
    """All versions by the rope that the newest one names: a correction may name another rope."""
    ropes = {splice.id: splice.rope_id for splice in splices}
    return grouped(splices, lambda splice: ropes[_newest(splice.id, corrected)])


def _newest(splice_id: str, corrected: Mapping[str, str]) -> str:
    """The id of the newest version; a ring of corrections, which only a damaged file holds, ends at its first."""
    seen = {splice_id}
    while (later := corrected.get(splice_id)) is not None and later not in seen:
        splice_id = later
        seen.add(later)
    return splice_id


def grouped(records: Iterable[Kept], key: Callable[[Kept], str]) -> dict[str, tuple[Kept, ...]]:
    """Records by their key, in the order given."""
    groups: dict[str, list[Kept]] = {}
    for record in records:
        groups.setdefault(key(record), []).append(record)
    return {owner: tuple(group) for owner, group in groups.items()}


Made = TypeVar("Made", Splice, SpliceHead)


def newest_first(splices: Iterable[Made]) -> list[Made]:
    """By the day on which they were made, of one day what was entered last first."""
    ranked = sorted(enumerate(splices), key=lambda one: (one[1].made_on.latest(), one[0]), reverse=True)
    return [splice for _, splice in ranked]
