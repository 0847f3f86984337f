"""The kit: items that go together, as a climber's set."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from gearlog.domain.identity import tag_fault
from gearlog.domain.record import Record
from gearlog.domain.text_rules import is_blank, text_faults
from gearlog.errors import Fault


class Kit(Record, frozen=True, kw_only=True):
    """A set of items.

    Attributes:
        tag: the short unique id written on its bag; no item and no other kit bears it.
        name: what the crew calls it.
        assigned_to: who has it.
        kept_at: where it is kept.
        items: ids of its items, in the order in which they were put in.
    """

    tag: str
    name: str
    assigned_to: str = ""
    kept_at: str = ""
    items: tuple[str, ...] = ()


def kit_faults(kit: Kit, *, taken_tags: Collection[str]) -> tuple[Fault, ...]:
    """What is wrong with a kit; ``taken_tags`` are those of all items and other kits."""
    return tuple(_faults(kit, taken_tags))


def _faults(kit: Kit, taken_tags: Collection[str]) -> Iterator[Fault]:
    tag = tag_fault(kit.tag, taken_tags)
    if tag:
        yield tag
    if is_blank(kit.name):
        yield Fault("name", "is empty", "type what the crew calls it, such as kit of climber 1")
    yield from text_faults(kit)
