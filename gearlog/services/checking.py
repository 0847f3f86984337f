"""Whether a log is sound: every record keeps its rules, and what it names is there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from contextlib import suppress

from gearlog.domain.event import Event
from gearlog.domain.inspection import Inspection
from gearlog.domain.inspection_rules import inspection_faults
from gearlog.domain.item import Item
from gearlog.domain.kit import Kit, kit_faults
from gearlog.domain.record import Record
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import StrengthTest
from gearlog.domain.validate import event_faults, item_faults, splice_faults
from gearlog.errors import Fault, NotFoundError
from gearlog.storage import Store
from gearlog.storage.photos import is_kept, path_of
from gearlog.units.quoting import quoted

WORDS: dict[type[Record], str] = {
    Item: "item",
    Event: "entry",
    Inspection: "inspection",
    Splice: "splice",
    StrengthTest: "test of strength",
    Kit: "kit",
}
"""What a record is called in a finding."""


def faults_in(store: Store) -> Iterator[str]:
    """What is wrong with the records of a log, a line each, with the way out."""
    yield from _tags(store)
    yield from _rules(store)
    yield from _strays(store)
    yield from _photos(store)


def _tags(store: Store) -> Iterator[str]:
    """A tag names one thing."""
    borne = [one.tag.casefold() for kind in (Item, Kit) for one in _records(store, kind)]
    for tag, count in Counter(borne).items():
        if count > 1:
            yield f"the tag {quoted(tag)} is borne by {count}; give each its own tag"


def _records(store: Store, kind: type[Item] | type[Kit]) -> tuple[Item | Kit, ...]:
    return tuple(store.records(kind))


def _rules(store: Store) -> Iterator[str]:
    """Every record keeps the rules that a new one is held to."""
    for item in store.records(Item):
        yield from _told(f"item {item.tag}", item_faults(item, taken_tags=()))
    for kit in store.records(Kit):
        yield from _told(f"kit {kit.tag}", kit_faults(kit, taken_tags=()))
    for event in store.records(Event):
        yield from _told(f"entry of {event.happened_on}", event_faults(event))
    for splice in store.records(Splice):
        yield from _told(f"splice of {splice.made_on}", splice_faults(splice))
    for inspection in store.records(Inspection):
        yield from _told(f"inspection of {inspection.inspected_on}", inspection_faults(inspection))


def _told(what: str, faults: tuple[Fault, ...]) -> Iterator[str]:
    return (f"{what}: {fault}" for fault in faults)


def _strays(store: Store) -> Iterator[str]:
    """What a record names is in the log."""
    items = {item.id for item in store.records(Item)}
    yield from _stray_items(store, items)
    for event in store.records(Event):
        yield from _stray(event, event.item_id in items, f"{event.kind} of {event.happened_on}")
    for inspection in store.records(Inspection):
        yield from _stray(inspection, inspection.item_id in items, str(inspection.inspected_on))
    yield from _stray_splices(store, items)


def _stray_items(store: Store, items: set[str]) -> Iterator[str]:
    for item in store.records(Item):
        parent = item.rope.parent_id if item.rope else ""
        if parent and parent not in items:
            yield f"item {item.tag}: the rope it was cut from is not in the log; choose it again"
    for kit in store.records(Kit):
        if not items.issuperset(kit.items):
            yield f"kit {kit.tag}: one of its items is not in the log; take it out"


def _stray_splices(store: Store, items: set[str]) -> Iterator[str]:
    splices = {splice.id for splice in store.records(Splice)}
    for splice in store.records(Splice):
        yield from _stray(splice, splice.rope_id in items, str(splice.made_on))
        if splice.corrects and splice.corrects not in splices:
            yield f"splice of {splice.made_on}: the record that it corrects is not in the log; restore a backup"
    for test in store.records(StrengthTest):
        yield from _stray(test, test.splice_id in splices, str(test.tested_on))


def _stray(record: Record, is_there: bool, told: str) -> Iterator[str]:  # noqa: FBT001 (said by its name)
    if not is_there:
        yield f"{WORDS[type(record)]} {told}: what it belongs to is not in the log; restore a backup"


def _photos(store: Store) -> Iterator[str]:
    """A photo that was kept lies in the log's folder."""
    if store.folder is None:
        return
    for splice in store.records(Splice):
        yield from _lost(store, f"splice of {splice.made_on}", splice.photos)
    for inspection in store.records(Inspection):
        names = (*inspection.photos, *(name for finding in inspection.findings for name in finding.photos))
        yield from _lost(store, f"inspection of {inspection.inspected_on}", names)


def _lost(store: Store, what: str, names: tuple[str, ...]) -> Iterator[str]:
    for name in names:
        if store.folder is None or not is_kept(name):
            continue
        with suppress(NotFoundError):
            path_of(store.folder, name)
            continue
        yield f"{what}: the photo {name} is not in the log's folder; put it back from a backup"
