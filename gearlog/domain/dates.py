"""Dates that may be known only to the month or to the year (ISO 8601, reduced precision)."""

from __future__ import annotations

import calendar
import re
from dataclasses import dataclass
from datetime import date
from typing import Self

from gearlog.errors import ReadingError

_SHAPE = re.compile(r"(\d{4})(?:-(\d{2}))?(?:-(\d{2}))?")
EXAMPLE = "type a date like 2024-05-31, a month like 2024-05, or a year like 2024"
FIRST_YEAR = 1900  # no kit in use is older; a smaller year is a slip of the finger
LAST_YEAR = 2199  # the same, the other way


@dataclass(frozen=True, slots=True)
class PartialDate:
    """A date known to the day, the month or the year; not known at all is ``None``.

    Attributes:
        text: ISO 8601, ``2024-05-31``, ``2024-05`` or ``2024``.
    """

    text: str

    @classmethod
    def read(cls, text: str) -> Self:
        """Read ISO text; raises ReadingError with an example."""
        made = cls(text.strip())
        try:
            year = made.earliest().year
        except (ValueError, AttributeError):
            raise ReadingError(f"'{text.strip()[:40]}' is not a date; {EXAMPLE}") from None
        if not FIRST_YEAR <= year <= LAST_YEAR:
            raise ReadingError(f"the year {year} cannot be right; {EXAMPLE}")
        return made

    @classmethod
    def of(cls, day: date) -> Self:
        """The date of a known day."""
        return cls(day.isoformat())

    def _numbers(self) -> tuple[int, int | None, int | None]:
        match = _SHAPE.fullmatch(self.text) if self.text.isascii() else None
        if match is None:
            raise ValueError(self.text)
        year, month, day = match.groups()
        return int(year), int(month) if month else None, int(day) if day else None

    def earliest(self) -> date:
        """The first day it can mean."""
        year, month, day = self._numbers()
        return date(year, month or 1, day or 1)

    def latest(self) -> date:
        """The last day it can mean."""
        year, month, day = self._numbers()
        month = month or 12
        return date(year, month, day or calendar.monthrange(year, month)[1])

    def __str__(self) -> str:
        return self.text
