"""Moving all dates of a record by a number of days, so that a demo log stands as of another day."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from functools import lru_cache
from typing import Any

from gearlog.domain.dates import PartialDate

REMEMBERED = 2048  # dates; a log repeats most of its days
_PARTS = frozenset({dict, list})
_TIMELESS = "plan"
"""A splice's plan: two thirds of a log, worked out without a calendar, so that no date stands in it."""
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_MONTH = re.compile(r"\d{4}-\d{2}")
_YEAR = re.compile(r"\d{4}")
_IN_ORDER = (("made_on", "bought_on"), ("made_on", "first_used_on"), ("bought_on", "first_used_on"))
"""Dates of an item of which the first is not after the second."""


def moved(row: dict[str, Any], days: int) -> dict[str, Any]:
    """The record with every ``..._on`` (partial date) and ``..._at`` (moment) moved; all else as it was."""
    made = row.copy()
    for key, value in row.items():
        if type(value) is str:
            end = key[-3:]
            if end == "_on":
                made[key] = moved_date(value, days)
            elif end == "_at":
                made[key] = _moved_moment(value, days)
        elif type(value) in _PARTS and key != _TIMELESS:
            made[key] = _within(value, days)
    for earlier, later in _IN_ORDER:
        if made.get(earlier) and made.get(later):
            _keep_order(made, earlier, later)
    return made


def _keep_order(row: dict[str, Any], earlier: str, later: str) -> None:
    """A month or year that its middle moved past a day goes back to that day's month or year."""
    first, second = row[earlier], row[later]
    if PartialDate(second).latest() < PartialDate(first).earliest():
        vague, known = (earlier, second) if len(first) < len(second) else (later, first)
        row[vague] = known[: len(row[vague])]


def _within(value: Any, days: int) -> Any:
    """What stands within a record: its parts, moved too."""
    if isinstance(value, dict):
        return moved(value, days)
    return [_within(one, days) if type(one) in _PARTS else one for one in value]


@lru_cache(maxsize=REMEMBERED)
def moved_date(text: str, days: int) -> str:
    """A partial date moved: a day exactly, a month or a year by the day in its middle; other text as it was."""
    shape = next((shape for shape in (_DAY, _MONTH, _YEAR) if shape.fullmatch(text)), None)
    if shape is None:
        return text
    known = PartialDate(text)
    middle = known.earliest() + (known.latest() - known.earliest()) // 2
    return (middle + timedelta(days=days)).isoformat()[: len(text)]


@lru_cache(maxsize=REMEMBERED)
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
