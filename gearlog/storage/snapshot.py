"""The snapshot: every record in one plain JSON file that TinyDB reads, one record a line."""

from __future__ import annotations

from itertools import chain

import msgspec

from gearlog.errors import StorageError
from gearlog.storage.lines import NO_ROW, Row, RowText, Tables, checksum, clean
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
    about: Tables = {ABOUT: {"1": clean({"program": "gearlog", "format": FORMAT, "n": n})}}
    records = {name: rows for name, rows in tables.items() if name != ABOUT}
    written = [_encode_table(name, rows) for name, rows in chain(about.items(), records.items())]
    return b"{\n" + b",\n".join(written) + b"\n}\n"


def _encode_table(name: str, rows: dict[str, RowText]) -> bytes:
    put = msgspec.json.encode
    written = b",\n".join([b"%b: %b" % (put(key), row) for key, row in rows.items()])
    return put(name) + (b": {\n" + written + b"\n}" if rows else b": {}")


_to_row = msgspec.json.Decoder(Row).decode
_to_tables = msgspec.json.Decoder(Tables).decode


def decode(data: bytes) -> Snapshot:
    """Read a snapshot; raises StorageError when it is not one.

    The rows stay text: of bytes whose checksum is known nothing more is to be asked; ``checked`` reads the others.
    """
    try:
        tables: Tables = _to_tables(data)
        about = msgspec.json.decode(tables.pop(ABOUT, {}).get("1", NO_ROW), type=_About)
        keys_are_numbers = all(key.isascii() and key.isdigit() for rows in tables.values() for key in rows)
    except (ValueError, msgspec.MsgspecError) as error:
        raise StorageError(f"not a gear log: {error}") from error
    if not keys_are_numbers:
        raise StorageError("not a gear log: a record without its number")
    return Snapshot(tables, about.n, about.format, checksum(data))


def checked(read: Snapshot) -> Snapshot:
    """The same with every row read to its end and written in our way; raises StorageError when one does not read."""
    try:
        tables = {name: {key: clean(_to_row(text)) for key, text in rows.items()} for name, rows in read.tables.items()}
    except (ValueError, msgspec.MsgspecError) as error:
        raise StorageError(f"not a gear log: {error}") from error
    return Snapshot(tables, read.n, read.format, read.checksum)
