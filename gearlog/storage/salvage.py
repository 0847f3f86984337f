"""What can still be read of a damaged snapshot that has no good backup: every row that is whole."""

from __future__ import annotations

import json
import re
from typing import Any

from gearlog.errors import StorageError
from gearlog.storage.lines import NO_ROW, Row, RowText, Tables, clean, plain
from gearlog.storage.migrations import FORMAT
from gearlog.storage.snapshot import ABOUT, Snapshot

_PIECE = re.compile(r'"(?P<table>[a-z]+)": \{\n|(?P<end>^\}|\n\})|"(?P<key>[0-9]+)": (?=\{)')
UNNAMED = "unread"
"""The table of rows whose own table's name is damaged; they stay in the file."""


def salvage(data: bytes) -> tuple[Snapshot, int]:
    """A snapshot of the rows that are whole, and how many they are."""
    text = data.decode(errors="replace")
    tables: Tables = {}
    name = UNNAMED
    for piece in _PIECE.finditer(text):
        if piece["key"] is None:
            name = piece["table"] or UNNAMED
        elif (row := _whole_row(text, piece.end())) is not None:
            tables.setdefault(name, {}).setdefault(piece["key"], row)
    about = plain(tables.pop(ABOUT, {}).get("1", NO_ROW))
    count = sum(len(rows) for rows in tables.values())
    return Snapshot(tables, _number(about, "n", 0), _number(about, "format", FORMAT), ""), count


def _whole_row(text: str, start: int) -> RowText | None:
    try:
        row, _ = _reader.raw_decode(text, start)
        return clean(row) if isinstance(row, dict) else None
    except (ValueError, RecursionError, StorageError):
        return None


def _no_number(name: str) -> Any:
    raise ValueError(name)


_reader = json.JSONDecoder(parse_constant=_no_number)


def _number(about: Row, name: str, otherwise: int) -> int:
    found = about.get(name)
    return found if isinstance(found, int) and not isinstance(found, bool) and found >= 0 else otherwise
