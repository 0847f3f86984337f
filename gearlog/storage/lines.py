"""The journal's lines: ``crc32 json``, one a save, each of them checkable by itself."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Any
from zlib import crc32

import msgspec

from gearlog.errors import StorageError

Row = dict[str, Any]
"""One record as plain JSON values."""
RowText = msgspec.Raw
"""One record as JSON text: rows stay text until somebody looks at them, for most are never looked at."""
NO_ROW = RowText(b"null")
"""Stands where there is no such row."""
Tables = dict[str, dict[str, RowText]]
"""Table name to document id to row, as TinyDB keeps them."""

CHECKSUM_DIGITS = 8
_LINE_START = re.compile(rb"[0-9a-f]{8} \{")


class Change(msgspec.Struct, array_like=True, frozen=True):
    """One row before and after; either may be ``NO_ROW``."""

    table: str
    key: str
    after: RowText
    before: RowText

    def inverse(self) -> Change:
        """The change that takes this one back."""
        return Change(self.table, self.key, self.before, self.after)


class Line(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One line of the journal.

    Attributes:
        n: number of the save, growing by one; of a fold, the last save in it; of a heading, the same.
        at: when it was written (UTC, ISO 8601).
        label: what was done, in the user's words.
        changes: the rows that changed.
        undoes: number of the save that this line takes back.
        redoes: number of the save that this line does again.
        snapshot: checksum of the snapshot that holds everything up to ``n``; a heading or a fold.
        format: of a heading, version of the log's format.
    """

    n: int
    at: str = ""
    label: str = ""
    changes: tuple[Change, ...] = ()
    undoes: int | None = None
    redoes: int | None = None
    snapshot: str | None = None
    format: int | None = None


class Reading(msgspec.Struct):
    """What a journal's bytes hold.

    Attributes:
        lines: the saves that are whole.
        names: checksums of the snapshots that the journal builds on, oldest first.
        format: version of the format, or None when the heading is damaged.
        size: bytes up to the end of the last line, without a torn one.
        torn: whether the last line was cut off in the middle of writing.
        damaged: how many finished lines do not pass their check.
        unended: whether the last line is whole but for its line end.
    """

    lines: list[Line] = []
    names: list[str] = []
    format: int | None = None
    size: int = 0
    torn: bool = False
    damaged: int = 0
    unended: bool = False

    def take(self, line: Line) -> None:
        """File one good line."""
        if line.snapshot is None:
            self.lines.append(line)
            return
        self.names.append(line.snapshot)
        if line.format is not None:
            self.format = line.format


def checksum(data: bytes) -> str:
    """CRC-32 in eight hexadecimal digits."""
    return f"{crc32(data):0{CHECKSUM_DIGITS}x}"


_to_line = msgspec.json.Decoder(Line).decode


def encode(line: Line) -> bytes:
    """The line's bytes; its rows are ``clean``. Raises StorageError for a label that no file can keep."""
    try:
        text = msgspec.json.encode(line)
    except (TypeError, ValueError) as error:
        raise StorageError(f"'{line.label!a}' cannot be saved: it holds a sign that no file can keep") from error
    return b"%b %b\n" % (checksum(text).encode(), text)


def plain(text: RowText) -> Row:
    """The values of a row; none of a text that is no row, which only a foreign hand leaves."""
    try:
        row = msgspec.json.decode(text)
    except (ValueError, msgspec.MsgspecError):
        return {}
    return row if isinstance(row, dict) else {}


def written(row: Row) -> RowText:
    """The text of a row whose values came out of a file, and so can go into one."""
    return RowText(msgspec.json.encode(row))


def alike(one: RowText, other: RowText) -> bool:
    """Whether two rows hold the same values, however they are written."""
    return one == other or (NO_ROW not in (one, other) and plain(one) == plain(other))


def clean(row: Row) -> RowText:
    """The row as it is written; raises StorageError when it would not read back the same.

    JSON knows neither NaN nor infinity nor half a character.
    """
    try:
        text = msgspec.json.encode(row)
        again: Row = msgspec.json.decode(text)
    except (TypeError, ValueError, msgspec.MsgspecError) as error:
        raise StorageError("a row cannot be saved: it holds a value that no file can keep") from error
    if again != row:
        raise StorageError("a row cannot be saved: it holds a number that is no number")
    return RowText(text)


def decode(data: bytes) -> Line | None:
    """The line, or None when it does not pass its check."""
    text = data[CHECKSUM_DIGITS + 1 :]
    if data[: CHECKSUM_DIGITS + 1] != b"%b " % checksum(text).encode():
        return None
    try:
        return _to_line(text)
    except (ValueError, msgspec.MsgspecError):
        return None


def read(data: bytes) -> Reading:
    """Read a journal; lines that fail their check are counted and passed over."""
    reading = Reading()
    *finished, rest = data.split(b"\n")
    for raw in finished:
        _read_finished(raw, reading)
    reading.size = len(data) - len(rest)
    if rest:
        _read_rest(rest, reading)
    return reading


def _read_finished(raw: bytes, reading: Reading) -> None:
    line = decode(raw)
    if line is not None:
        reading.take(line)
    if line is not None or not raw:
        return
    reading.damaged += 1
    for saved in _rescued(raw):
        reading.take(saved)


def _read_rest(rest: bytes, reading: Reading) -> None:
    """The bytes after the last line end: a line in the middle of writing, or one that lost its end sign."""
    found = list(_rescued(rest))
    for line in found:
        reading.take(line)
    if decode(rest) is not None:
        reading.unended = True
    elif found:
        reading.damaged += 1
    else:
        reading.torn = True


def _rescued(raw: bytes) -> Iterator[Line]:
    """Whole lines inside bytes whose line ends were damaged."""
    starts = [match.start() for match in _LINE_START.finditer(raw)]
    for start, stop in pairwise([*starts, len(raw)]):
        piece = raw[start:stop]
        line = decode(piece) or decode(piece[:-1])
        if line is not None:
            yield line
