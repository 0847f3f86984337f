"""What is due as an iCalendar file (RFC 5545): one all-day entry an item, its identity the same in every file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, timedelta

import msgspec

from gearlog.units.visible import visible

LINE_OCTETS = 75
"""The longest line without its end: RFC 5545, 3.1."""
PRODUCT = "-//gearlog//gear log//EN"
HOST = "gearlog"
"""Stands behind the @ of every identity: RFC 5545, 3.8.4.7."""
ONE_DAY = timedelta(days=1)


class CalendarEntry(msgspec.Struct, frozen=True):
    """One all-day entry.

    Attributes:
        id: never changes, so that a calendar replaces the entry and does not double it.
        on: the day.
        summary: its title.
        description: why, and by which rule.
    """

    id: str
    on: date
    summary: str
    description: str


def to_ics(entries: Iterable[CalendarEntry], made_at: datetime) -> bytes:
    """The file; ``made_at`` is the moment of making it."""
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:{PRODUCT}",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
        *(line for entry in entries for line in _entry(entry, made_at)),
        "END:VCALENDAR",
    ]
    return b"".join(_folded(line) for line in lines)


def _entry(entry: CalendarEntry, made_at: datetime) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{entry.id}@{HOST}"
    yield f"DTSTAMP:{made_at.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    yield f"DTSTART;VALUE=DATE:{_day(entry.on)}"
    yield f"DTEND;VALUE=DATE:{_day(entry.on + ONE_DAY)}"
    yield f"SUMMARY:{_text(entry.summary)}"
    yield f"DESCRIPTION:{_text(entry.description)}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def _day(day: date) -> str:
    return day.isoformat().replace("-", "")


def _text(value: str) -> str:
    """A TEXT value: RFC 5545, 3.3.11; other control signs are written out."""
    parts = (visible(part) for part in value.replace("\r\n", "\n").split("\n"))
    escaped = (part.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,") for part in parts)
    return "\\n".join(escaped)


def _folded(line: str) -> bytes:
    """The line in pieces of at most 75 octets, no sign cut in two, each further one led in by a space."""
    pieces, room = [b""], LINE_OCTETS
    for sign in line:
        octets = sign.encode("utf-8", "replace")
        if len(pieces[-1]) + len(octets) > room:
            pieces.append(b"")
            room = LINE_OCTETS - 1
        pieces[-1] += octets
    return b"\r\n ".join(pieces) + b"\r\n"
