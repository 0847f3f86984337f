"""The snapshot: every record in one plain JSON file that TinyDB reads, one record a line."""

from __future__ import annotations

from itertools import chain

import msgspec

from gearlog.errors import StorageError
from gearlog.storage.lines import Row, Tables, checksum
from gearlog.storage.migrations import FORMAT

ABOUT = "about"
"""The table of one row that says what the file is."""


class Snapshot(msgspec.Struct, frozen=True):
    """A snapshot that was read.

    Attributes:
        tables: the records.
        n: number of the last save in it.
        format: version of its format.
        checksum: of the bytes it was read from.
    """

    tables: Tables
    n: int
    format: int
    checksum: str


class _About(msgspec.Struct):
    format: int
    n: int


def encode(tables: Tables, n: int) -> bytes:
    """The bytes of a snapshot with all saves up to number ``n``."""
    about: Tables = {ABOUT: {"1": {"program": "gearlog", "format": FORMAT, "n": n}}}
    records = {name: rows for name, rows in tables.items() if name != ABOUT}
    written = [_encode_table(name, rows) for name, rows in chain(about.items(), records.items())]
    return b"{\n" + b",\n".join(written) + b"\n}\n"


def _encode_table(name: str, rows: dict[str, Row]) -> bytes:
    put = msgspec.json.encode
    written = b",\n".join([put(key) + b": " + put(row) for key, row in rows.items()])
    return put(name) + (b": {\n" + written + b"\n}" if rows else b": {}")


_to_tables = msgspec.json.Decoder(dict[str, dict[str, Row]]).decode


def decode(data: bytes) -> Snapshot:
    """Read a snapshot; raises StorageError when it is not one."""
    try:
        tables: Tables = _to_tables(data)
        about = msgspec.convert(tables.pop(ABOUT, {}).get("1"), _About)
        keys_are_numbers = all(key.isascii() and key.isdigit() for rows in tables.values() for key in rows)
    except (ValueError, msgspec.MsgspecError) as error:
        raise StorageError(f"not a gear log: {error}") from error
    if not keys_are_numbers:
        raise StorageError("not a gear log: a record without its number")
    return Snapshot(tables, about.n, about.format, checksum(data))
