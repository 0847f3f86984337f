"""Backups that rotate by themselves: the newest few snapshots, one of each recent day, one of each recent month."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import UTC, datetime
from itertools import count
from pathlib import Path

import msgspec

from gearlog.errors import StorageError
from gearlog.storage import durable, snapshot
from gearlog.storage.lines import checksum
from gearlog.storage.locations import LogFiles

KEEP_NEWEST = 3
KEEP_DAYS = 14
KEEP_MONTHS = 12
_STAMP = "%Y%m%dT%H%M%SZ"
_NAME = re.compile(r"log-(\d{8}T\d{6}Z)-([0-9a-f]{8})\.json")


class Backup(msgspec.Struct, frozen=True):
    """One backup file.

    Attributes:
        path: the file.
        made_at: when it was written (UTC).
        checksum: of its bytes, as its name says.
    """

    path: Path
    made_at: datetime
    checksum: str

    def load(self) -> snapshot.Snapshot | None:
        """Its snapshot, or None when its bytes are not those that were written."""
        try:
            data = self.path.read_bytes()
            return snapshot.decode(data) if checksum(data) == self.checksum else None
        except (OSError, StorageError):
            return None


def all_backups(folder: Path) -> tuple[Backup, ...]:
    """The backups in ``folder``, newest first; other files are not touched."""
    found = [backup for path in _files(folder) if (backup := _read_name(path)) is not None]
    return tuple(sorted(found, key=lambda backup: (backup.made_at, backup.path.stat().st_mtime_ns), reverse=True))


def keep(folder: Path, data: bytes, when: datetime) -> None:
    """Write a backup of a snapshot's bytes, and let go of those that are no longer due."""
    durable.make_folder(folder)
    name = f"log-{when.astimezone(UTC).strftime(_STAMP)}-{checksum(data)}.json"
    durable.write_whole(folder / name, data)
    backups = all_backups(folder)
    wanted = {backup.path for backup in worth_keeping(backups)}
    for backup in backups:
        if backup.path not in wanted:
            with suppress(OSError):
                backup.path.unlink()


def keep_older(files: LogFiles, found: int, when: datetime) -> Path:
    """Keep the files of a log of format ``found`` in a folder of their own, a log that an older program opens.

    It lies among the backups, never goes with them, and takes the place of no other.
    """
    name = f"format-{found}-{when.astimezone(UTC).strftime(_STAMP)}"
    names = (name if number == 1 else f"{name}-{number}" for number in count(1))
    folder = next(place for one in names if not (place := files.backups / one).exists())
    durable.make_folder(folder)
    for path in (files.snapshot, files.journal):
        data = durable.read_whole(path)
        if data is not None:
            durable.write_whole(folder / path.name, data)
    return folder


def worth_keeping(newest_first: Iterable[Backup]) -> tuple[Backup, ...]:
    """Which backups stay: the newest, and the newest of each of the last days and months that have any."""
    backups = tuple(newest_first)
    days = _newest_of_each(backups, "%Y-%m-%d")[:KEEP_DAYS]
    months = _newest_of_each(backups, "%Y-%m")[:KEEP_MONTHS]
    return tuple(dict.fromkeys((*backups[:KEEP_NEWEST], *days, *months)))


def _newest_of_each(backups: tuple[Backup, ...], period: str) -> list[Backup]:
    newest: dict[str, Backup] = {}
    for backup in backups:
        newest.setdefault(backup.made_at.strftime(period), backup)
    return list(newest.values())


def _files(folder: Path) -> Iterator[Path]:
    return folder.iterdir() if folder.is_dir() else iter(())


def _read_name(path: Path) -> Backup | None:
    match = _NAME.fullmatch(path.name)
    if match is None:
        return None
    try:
        made_at = datetime.strptime(match[1], _STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None
    return Backup(path, made_at, match[2])
