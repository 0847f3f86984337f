"""As of which day a log is looked at: now, or a past day as it is known now or as it was shown then."""

from __future__ import annotations

from datetime import date

import msgspec

from gearlog.domain.event import Event
from gearlog.domain.history import History
from gearlog.domain.item import Item
from gearlog.domain.past import as_of, as_recorded, entered_on, entries_as_of, entries_as_recorded, known_from


class Look(msgspec.Struct, frozen=True):
    """As of which day an item is looked at.

    Attributes:
        on: the day; None is now.
        recorded: only what had been written down by then, as it was shown on that day.
    """

    on: date | None = None
    recorded: bool = False

    def at(self, history: History) -> History:
        """The history as it is seen."""
        if self.on is None:
            return history
        return as_recorded(history, self.on) if self.recorded else as_of(history, self.on)

    def sees(self, history: History) -> bool:
        """Whether the item is there at all."""
        if self.on is None:
            return True
        return self.first(history) <= self.on

    def first(self, history: History) -> date:
        """The first day on which it is there."""
        return history.item.created_at.date() if self.recorded else known_from(history)

    def entries(self, entries: tuple[Event, ...]) -> tuple[Event, ...] | None:
        """Of the entries that count now for what was cut from nothing those seen; None where ``at`` decides."""
        if self.on is None:
            return entries
        return entries_as_recorded(entries, self.on) if self.recorded else entries_as_of(entries, self.on)

    def sees_entries(self, item: Item, entries: tuple[Event, ...]) -> bool:
        """Whether what was cut from nothing is there at all, by the entries that count for it."""
        if self.on is None:
            return True
        if item.created_at.date() <= self.on:
            return True
        return not self.recorded and entered_on(item, entries) <= self.on
