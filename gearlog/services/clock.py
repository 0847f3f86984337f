"""The two clocks that services are given: the day for what is due, the moment for records."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime


def utc_now() -> datetime:
    """The present moment in UTC, to the second: records say when, not how fast."""
    return datetime.now(UTC).replace(microsecond=0)


@dataclass(frozen=True, slots=True)
class Clock:
    """Where the day and the moment come from; tests give fixed ones."""

    today: Callable[[], date] = date.today
    now: Callable[[], datetime] = utc_now
