"""What should be looked into on an item's record, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import status_of
from gearlog.domain.vocabulary import Category, Status
from gearlog.upkeep.account import Account
from gearlog.upkeep.minimums import strength_notes

TEXTILE = frozenset({Category.SLING, Category.LANYARD, Category.HARNESS})
"""Categories that are textile also where no rope is on record."""
UNDESTROYED = "retired, but its destruction is not noted: cut it up, so that nobody takes it by mistake, and record it"


def notes_on(item: Item, events: Sequence[Event], account: Account | None) -> tuple[str, ...]:
    """Notes on one item, the gravest first."""
    return tuple(_notes(item, events, account))


def is_textile(item: Item) -> bool:
    """Whether it is made of rope or webbing."""
    return item.rope is not None or item.category in TEXTILE


def _notes(item: Item, events: Sequence[Event], account: Account | None) -> Iterator[str]:
    if is_textile(item) and status_of(events) is Status.RETIRED:
        yield UNDESTROYED
    yield from strength_notes(item)
    if account is not None and account.parts:
        yield from account.faults
