"""What all records share, and the ways between a record, plain JSON values and JSON text."""

from __future__ import annotations

from datetime import datetime
from functools import cache, lru_cache
from typing import Any, TypeVar

import msgspec

from gearlog.domain.dates import PartialDate
from gearlog.errors import Fault, GearlogError, InvalidRecordError
from gearlog.units.measure import Measure


class Record(msgspec.Struct, frozen=True, kw_only=True):
    """A frozen record with an identity that is never reused.

    Attributes:
        id: stable, made by ``identity.new_id``.
        created_at: when it was first saved (UTC).
        changed_at: when it was last saved (UTC).
        notes: own words.
    """

    id: str
    created_at: datetime
    changed_at: datetime
    notes: str = ""


REMEMBERED = 16_384  # texts of quantities and dates whose readings are kept; a log repeats few

AnyStruct = TypeVar("AnyStruct", bound=msgspec.Struct)


def to_plain(record: msgspec.Struct) -> dict[str, Any]:
    """The record as JSON values: measures and dates as typed, enums as their ids."""
    plain: dict[str, Any] = msgspec.to_builtins(record, enc_hook=_encode, str_keys=True)
    return plain


def from_plain(kind: type[AnyStruct], plain: object) -> AnyStruct:
    """The record from JSON values; raises InvalidRecordError naming the path of the fault."""
    try:
        return msgspec.convert(plain, kind, dec_hook=_decode, strict=True)
    except msgspec.ValidationError as error:
        raise _unreadable(kind, error) from error


def to_text(record: msgspec.Struct, *, ordered: bool = False) -> bytes:
    """The record as JSON text, as ``to_plain`` gives it; ``ordered`` by the letters of its keys at every depth."""
    return msgspec.json.encode(record, enc_hook=_encode, order="sorted" if ordered else None)


def from_text(kind: type[AnyStruct], text: bytes | msgspec.Raw) -> AnyStruct:
    """The record from JSON text; raises InvalidRecordError as ``from_plain`` does."""
    try:
        made: AnyStruct = _decoder(kind).decode(text)
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise _unreadable(kind, error) from error
    return made


@cache
def _decoder(kind: type[msgspec.Struct]) -> msgspec.json.Decoder[Any]:
    return msgspec.json.Decoder(kind, dec_hook=_decode, strict=True)


def _unreadable(kind: type[msgspec.Struct], error: Exception) -> InvalidRecordError:
    reason, _, path = str(error).partition(" - at `$")
    field = path.strip("`.") or kind.__name__.lower()
    return InvalidRecordError((Fault(field, reason, "mend it in the file or restore a backup"),))


def _encode(value: object) -> object:
    if isinstance(value, Measure | PartialDate):
        return value.text
    raise TypeError(f"no plain form for {type(value).__name__}")


def _decode(kind: type[Measure | PartialDate], value: object) -> object:
    if not isinstance(value, str):
        raise ValueError(f"expected text, got {type(value).__name__}")  # noqa: TRY004 (msgspec passes ValueError on)
    try:
        return _read(kind, value)  # type: ignore[arg-type] # mypy takes the hash of the values for the class's
    except GearlogError as error:
        raise ValueError(error.message) from error


@lru_cache(REMEMBERED)
def _read(kind: type[Measure | PartialDate], text: str) -> object:
    """The value; a stored zero was judged when it was typed, so it is let through."""
    return kind.read(text, zero=True) if issubclass(kind, Measure) else kind.read(text)
