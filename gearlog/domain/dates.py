"""Dates that may be known only to the month or to the year (ISO 8601, reduced precision)."""

from __future__ import annotations

import calendar
import re
from datetime import date
from typing import Self

from gearlog.errors import ReadingError
from gearlog.units.quoting import quoted

_SHAPE = re.compile(r"(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?", re.ASCII)
MONTHS = 12
EXAMPLE = "type a date like 2024-05-31, a month like 2024-05, or a year like 2024"
FIRST_YEAR = 1900  # no kit in use is older; a smaller year is a slip of the finger
LAST_YEAR = 2199  # the same, the other way


class PartialDate:
    """A date known to the day, the month or the year; not known at all is ``None``. Never changed.

    A plain class, because msgspec would store a dataclass field by field and not as the text.
    """

    __slots__ = ("_earliest", "_latest", "_text")

    def __init__(self, text: str) -> None:
        """``text`` must be ISO 8601 with plain digits, as ``read`` checks; ValueError otherwise."""
        match = _SHAPE.fullmatch(text)
        if match is None:
            raise ValueError(text)
        year, month, day = (int(part) if part else None for part in match.groups())
        self._text = text
        self._earliest = date(year or 0, 1 if month is None else month, 1 if day is None else day)
        self._latest = self._last_day(self._earliest, month, day)

    @classmethod
    def read(cls, text: str) -> Self:
        """Read ISO text; raises ReadingError with an example."""
        typed = text.strip(" ")
        try:
            made = cls(typed)
        except ValueError:
            raise ReadingError(f"{quoted(typed)} is not a date; {EXAMPLE}") from None
        year = made.earliest().year
        if not FIRST_YEAR <= year <= LAST_YEAR:
            raise ReadingError(f"the year {year} cannot be right; {EXAMPLE}")
        return made

    @classmethod
    def of(cls, day: date) -> Self:
        """The date of a known day."""
        return cls(day.isoformat())

    @staticmethod
    def _last_day(first: date, month: int | None, day: int | None) -> date:
        if day:
            return first
        last_month = month or MONTHS
        return date(first.year, last_month, calendar.monthrange(first.year, last_month)[1])

    @property
    def text(self) -> str:
        """ISO 8601, ``2024-05-31``, ``2024-05`` or ``2024``."""
        return self._text

    def earliest(self) -> date:
        """The first day it can mean."""
        return self._earliest

    def latest(self) -> date:
        """The last day it can mean."""
        return self._latest

    @property
    def is_exact(self) -> bool:
        """Whether it is known to the day."""
        return self._earliest == self._latest

    def __eq__(self, other: object) -> bool:
        return isinstance(other, PartialDate) and other._text == self._text

    def __hash__(self) -> int:
        return hash(self._text)

    def __str__(self) -> str:
        return self._text

    def __repr__(self) -> str:
        return f"PartialDate({self._text!r})"
