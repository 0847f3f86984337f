"""The calendar file, read back by a reader that was written from RFC 5545 alone."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.reports.ics import CalendarEntry, to_ics
from gearlog.units.visible import visible

NOW = datetime(2026, 11, 1, 8, 30, tzinfo=UTC)
Properties = list[tuple[str, dict[str, str], str]]


def read(data: bytes) -> list[Properties]:
    """The properties of each VEVENT: RFC 5545, 3.1 (unfolding), 3.2 (parameters), 3.6 (components)."""
    assert data.endswith(b"\r\n")
    assert b"\n" not in data.replace(b"\r\n", b"")
    text = data.replace(b"\r\n ", b"").replace(b"\r\n\t", b"").decode("utf-8")
    events: list[Properties] = []
    depth: list[str] = []
    for line in text.split("\r\n")[:-1]:
        name, _, value = line.partition(":")
        name, *parameters = name.split(";")
        assert re.fullmatch(r"[A-Z-]+", name), line
        if name == "BEGIN":
            depth.append(value)
            if value == "VEVENT":
                events.append([])
        elif name == "END":
            assert depth.pop() == value
        elif depth == ["VCALENDAR", "VEVENT"]:
            events[-1].append((name, dict(part.split("=", 1) for part in parameters), value))
    assert depth == []
    return events


def plain(value: str) -> str:
    """A TEXT value without its escapes: RFC 5545, 3.3.11."""
    signs = {"n": "\n", "N": "\n", ",": ",", ";": ";", "\\": "\\"}
    assert not re.search(r"(?<!\\)(?:\\\\)*[,;]", value)
    return re.sub(r"\\(.)", lambda match: signs[match[1]], value)


@given(
    st.lists(
        st.tuples(st.text(st.characters(codec="utf-8"), max_size=120), st.dates(date(1, 1, 1), date(9999, 12, 30))),
        max_size=4,
    )
)
def test_any_name_comes_back_and_no_line_is_longer_than_75_octets(rows: list[tuple[str, date]]) -> None:
    entries = [CalendarEntry(f"id{n}-due", on, name, f"{name}; why, {name}") for n, (name, on) in enumerate(rows)]
    data = to_ics(entries, NOW)
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    found = read(data)
    assert len(found) == len(entries)
    for properties, entry in zip(found, entries, strict=True):
        values = {name: (parameters, value) for name, parameters, value in properties}
        assert values["UID"][1] == f"{entry.id}@gearlog"
        assert values["DTSTAMP"][1] == "20261101T083000Z"
        assert values["DTSTART"] == ({"VALUE": "DATE"}, f"{entry.on.year:04d}{entry.on:%m%d}")
        shown = "\n".join(visible(part) for part in entry.summary.replace("\r\n", "\n").split("\n"))
        assert plain(values["SUMMARY"][1]) == shown


def test_a_file_has_its_version_and_maker_and_is_the_same_each_time() -> None:
    entry = CalendarEntry("a-due", date(2027, 2, 28), "line-1", "why")
    data = to_ics([entry], NOW)
    assert data.startswith(b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:")
    assert data == to_ics([entry], NOW)
    assert b"DTEND;VALUE=DATE:20270301" in data  # the day after: RFC 5545, 3.6.1
    assert read(to_ics([], NOW)) == []


@pytest.mark.parametrize("name", ["a" * 200, "\u7e04" * 60, "x" * 66 + "\U0001f9d7" * 5])
def test_folding_cuts_no_sign_in_two(name: str) -> None:
    data = to_ics([CalendarEntry("a", date(2027, 1, 1), name, "")], NOW)
    for line in data.split(b"\r\n"):
        line.decode("utf-8")
