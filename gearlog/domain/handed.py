"""Who has an item: by assignment for good, by loan for a while."""

from __future__ import annotations

from collections.abc import Sequence

from gearlog.domain.event import Event
from gearlog.domain.lifecycle import still_open
from gearlog.domain.vocabulary import EventKind


def loan_of(events: Sequence[Event]) -> Event | None:
    """The loan that was not given back yet, the newest one; None when it is not on loan."""
    loans = still_open(events, frozenset({EventKind.LOANED}), frozenset({EventKind.RETURNED}))
    return max(loans, key=lambda loan: (loan.happened_on.earliest(), loan.created_at), default=None)
