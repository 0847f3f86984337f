"""Rows of the gear list: made once for each state of the log and day, and only for the items that changed."""

from __future__ import annotations

from datetime import date

from gearlog.domain.counting import counted
from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import status_of
from gearlog.domain.vocabulary import Status, label
from gearlog.services.gaps import gaps_of
from gearlog.services.look import Look
from gearlog.services.schedule import Schedule
from gearlog.services.shelf import Shelf
from gearlog.services.views import GearRow
from gearlog.storage.loading import quiet
from gearlog.upkeep.due import due_of
from gearlog.upkeep.life import end_of_life
from gearlog.upkeep.schedule import DEFAULT_BOOK, RuleBook


class GearRows:
    """The rows, kept between two looks."""

    def __init__(self, shelf: Shelf, schedule: Schedule) -> None:
        self._shelf = shelf
        self._schedule = schedule
        self._stand: tuple[int, date, RuleBook] | None = None
        self._all: tuple[GearRow, ...] = ()
        self._made: dict[str, tuple[tuple[Event, ...], GearRow]] = {}
        self._past: tuple[tuple[int, Look, RuleBook], tuple[GearRow, ...]] | None = None

    def all(self) -> tuple[GearRow, ...]:
        """Every item's row in order of entry."""
        today = self._shelf.clock.today()
        stand = (self._shelf.store.version, today, self._schedule.book())
        if stand != self._stand:
            if self._stand is not None and self._stand[1:] != stand[1:]:
                self._made.clear()
            with quiet():
                self._all = tuple(self._row(item, today, stand[2]) for item in self._shelf.items())
            self._stand = stand
        return self._all

    def of(self, item: Item) -> GearRow:
        """The row of one item."""
        return gear_row(item, self._shelf.events_of(item.id), self._shelf.clock.today(), self._schedule.book())

    def past(self, look: Look) -> tuple[GearRow, ...]:
        """The rows of a past day, in order of entry; what was not there yet is left out."""
        stand = (self._shelf.store.version, look, self._schedule.book())
        if self._past is None or self._past[0] != stand:
            self._past = (stand, self._past_rows(look))
        return self._past[1]

    def _past_rows(self, look: Look) -> tuple[GearRow, ...]:
        day, book = look.on or self._shelf.clock.today(), self._schedule.book()
        with quiet():
            seen = ((item, self._seen(item, look)) for item in self._shelf.items())
            return tuple(
                gear_row(item, entries, day, book, self._kept(item)) for item, entries in seen if entries is not None
            )

    def _seen(self, item: Item, look: Look) -> tuple[Event, ...] | None:
        """The entries that count for an item on a past day; None where it was not there yet.

        Only a piece needs its history put together for it, and what was inspected on a vague date.
        """
        if item.rope is None or not item.rope.parent_id:
            entries = self._shelf.events_of(item.id)
            if not look.sees_entries(item, entries):
                return None
            kept = look.entries(entries)
            if kept is not None:
                return kept
        history = self._shelf.history_of(item.id)
        return counted(look.at(history)) if look.sees(history) else None

    def _kept(self, item: Item) -> GearRow | None:
        """The row of today that was made last, as far as the item is the same."""
        made = self._made.get(item.id)
        return made[1] if made is not None and made[1].item is item else None

    def _row(self, item: Item, today: date, book: RuleBook = DEFAULT_BOOK) -> GearRow:
        events = self._shelf.events_of(item.id)
        made = self._made.get(item.id)
        if made is None or made[1].item is not item or made[0] != events:
            made = self._made[item.id] = (events, gear_row(item, events, today, book))
        return made[1]


def gear_row(
    item: Item, events: tuple[Event, ...], today: date, book: RuleBook = DEFAULT_BOOK, like: GearRow | None = None
) -> GearRow:
    """One item's row as of ``today``; ``like`` is one of another day, from which what is the same is taken."""
    status, life = status_of(events), end_of_life(item, today)
    return GearRow(
        item=item,
        tag=item.tag,
        name=item.name,
        category=label(item.category),
        status=status,
        due=due_of(item, events, today, book, life),
        life_end=life,
        gaps=gaps_of(item, events),
        search=like.search if like is not None and like.status is status else _search(item, status),
    )


def _search(item: Item, status: Status) -> str:
    parts = [
        item.tag, item.name, label(item.category), item.maker, item.model, item.serial, item.standards,
        label(item.used_for), label(status), item.assigned_to, item.kept_at, item.notes, item.colour_mark,
        *item.former_tags,
    ]  # fmt: skip
    if item.rope is not None:
        parts += [item.rope.construction, item.rope.cover_fibre, item.rope.core_fibre]
        parts += [item.rope.diameter.text if item.rope.diameter else ""]
    return "\n".join(part for part in parts if part).lower()
