"""Adding months and years to a day, on the safe side: never later than the calendar allows."""

from __future__ import annotations

from calendar import monthrange
from datetime import date

MONTHS_IN_YEAR = 12
SHORTEST_MONTH = 28  # days; a day up to it is in every month


def add_months(day: date, months: int) -> date:
    """The same day of the month ``months`` later, or the last day of a shorter month."""
    count = day.year * MONTHS_IN_YEAR + (day.month - 1) + months
    year, month = count // MONTHS_IN_YEAR, count % MONTHS_IN_YEAR + 1
    if day.day <= SHORTEST_MONTH:
        return date(year, month, day.day)
    return date(year, month, min(day.day, monthrange(year, month)[1]))


def add_years(day: date, years: int) -> date:
    """The same day ``years`` later; 29 February becomes 28 February in a common year."""
    return add_months(day, years * MONTHS_IN_YEAR)
