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
    return {key: _moved(key, value, days) for key, value in row.items()}


def _moved(key: str, value: Any, days: int) -> Any:
    if isinstance(value, dict):
        return moved(value, days)
    if isinstance(value, list):
        return [_moved("", one, days) for one in value]
    if isinstance(value, str) and key.endswith("_on"):
        return moved_date(value, days)
    if isinstance(value, str) and key.endswith("_at"):
        return _moved_moment(value, days)
    return value


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
