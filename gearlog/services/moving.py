"""Moving all dates of a record by a number of days, so that a demo log stands as of another day."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import Any

from gearlog.domain.dates import PartialDate

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_MONTH = re.compile(r"\d{4}-\d{2}")
_YEAR = re.compile(r"\d{4}")


def moved(row: dict[str, Any], days: int) -> dict[str, Any]:
    """The record with every ``..._on`` (partial date) and ``..._at`` (moment) moved; all else as it was."""
    made = row.copy()
    for key, value in row.items():
        if type(value) is str:
            if key.endswith("_on"):
                made[key] = moved_date(value, days)
            elif key.endswith("_at"):
                made[key] = _moved_moment(value, days)
        elif value and isinstance(value, dict | list):
            made[key] = _within(value, days)
    return made


def _within(value: Any, days: int) -> Any:
    """What stands within a record: its parts, moved too."""
    if isinstance(value, dict):
        return moved(value, days)
    return [_within(one, days) for one in value] if isinstance(value, list) else value


def moved_date(text: str, days: int) -> str:
    """A partial date moved: a day exactly, a month or a year by the day in its middle; other text as it was."""
    shape = next((shape for shape in (_DAY, _MONTH, _YEAR) if shape.fullmatch(text)), None)
    if shape is None:
        return text
    known = PartialDate(text)
    middle = known.earliest() + (known.latest() - known.earliest()) // 2
    return (middle + timedelta(days=days)).isoformat()[: len(text)]


def _moved_moment(text: str, days: int) -> str:
    """A moment moved by whole days; text that is none, such as a place or a force, as it was."""
    if not _DAY.match(text) or "T" not in text:
        return text
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return text
    later = (moment + timedelta(days=days)).isoformat()
    return later.replace("+00:00", "Z") if text.endswith("Z") else later
