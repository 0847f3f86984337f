"""The settings beside the log: written whole, and never a reason not to open."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import msgspec

from gearlog.domain.record import from_plain, to_plain
from gearlog.domain.settings import Settings
from gearlog.errors import InvalidRecordError
from gearlog.storage import durable

DAMAGED = "The settings (settings.json) could not be read; the usual ones are used. The log itself is not touched."


def load(path: Path) -> tuple[Settings, bytes | None]:
    """The settings, and the file's bytes when they do not read and were replaced by the usual ones."""
    data: bytes | None = None
    try:
        data = durable.read_whole(path)
        if data is None:
            return Settings(), None
        return from_plain(Settings, msgspec.json.decode(data)), None
    except (OSError, ValueError, msgspec.MsgspecError, InvalidRecordError):
        return Settings(), data or b""


def save(path: Path, settings: Settings) -> None:
    """Write the settings in the file's place; raises OSError."""
    durable.write_whole(path, msgspec.json.format(msgspec.json.encode(to_plain(settings)), indent=2) + b"\n")


def put_aside(path: Path, data: bytes, when: datetime) -> None:
    """Keep settings that do not read under a name with the date; raises OSError."""
    durable.set_aside(path, data, when)
    path.resolve().unlink()
