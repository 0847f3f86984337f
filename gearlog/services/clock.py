"""The two clocks that services are given: the day for what is due, the moment for records."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime

import msgspec


def utc_now() -> datetime:
    """The present moment in UTC, to the second: records say when, not how fast."""
    return datetime.now(UTC).replace(microsecond=0)


def moment_on(today: Callable[[], date]) -> Callable[[], datetime]:
    """A clock of moments that agrees with a clock of days, also with one that is set to another day."""
    return lambda: utc_now() + (today() - date.today())  # noqa: DTZ011 (the day where the user is)


class Clock(msgspec.Struct, frozen=True):
    """Where the day and the moment come from; tests give fixed ones."""

    today: Callable[[], date]
    now: Callable[[], datetime]


def clock(today: Callable[[], date], now: Callable[[], datetime] | None) -> Clock:
    """The clock for a day and, where it is given, a moment."""
    return Clock(today, now or moment_on(today))
