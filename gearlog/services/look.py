"""As of which day a log is looked at: now, or a past day as it is known now or as it was shown then."""

from __future__ import annotations

from datetime import date

import msgspec

from gearlog.domain.history import History
from gearlog.domain.past import as_of, as_recorded, known_from


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
