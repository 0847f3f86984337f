"""Reading a log from disk: snapshot, then journal; and the newest good state where a file is damaged.

Nothing here writes. What has to be mended is told to the caller, who may hold the lock or not.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

import msgspec

from gearlog.errors import StorageError
from gearlog.storage import backups, durable, history, lines, migrations, snapshot
from gearlog.storage.lines import NO_ROW, Line, Reading, Tables
from gearlog.storage.locations import LogFiles
from gearlog.storage.salvage import salvage
from gearlog.storage.snapshot import Snapshot

NOTHING_LOST = "Nothing was lost."


class Opened(msgspec.Struct):
    """A log as it was read.

    Attributes:
        tables: the records.
        n: number of the last save.
        lines: the saves in the journal, for undo.
        size: bytes of the journal that are good.
        notices: what was found, in words.
        spoiled: damaged files with their bytes, to be set aside before anything is written.
        rewrite: whether snapshot and journal must be written anew.
        torn: whether the journal ends in the middle of a line, as it also does while a writer is at it.
        older: the format that the files have, where that is an earlier one; the tables are brought up to date.
    """

    tables: Tables = {}
    n: int = 0
    lines: list[Line] = []
    size: int = 0
    notices: list[str] = []
    spoiled: list[tuple[Path, bytes]] = []
    rewrite: bool = False
    torn: bool = False
    older: int | None = None


class _Found(msgspec.Struct, frozen=True):
    """The bytes on disk and what could be read of them."""

    files: LogFiles
    raw: bytes | None
    snapshot: Snapshot | None
    journal: bytes | None
    reading: Reading


class _Base(msgspec.Struct, frozen=True):
    """A state to start from, the saves that came after, and what to say about it."""

    snapshot: Snapshot
    after: Iterable[Line]
    notice: str = ""


def read_log(files: LogFiles, *, limit: int | None = None) -> Opened:
    """Read the log; ``limit`` is how many bytes of the journal count.

    Raises StorageError when the log is of a newer format or cannot be read at all.
    """
    found = _find(files, limit)
    if found.raw is None and found.journal is None and not backups.all_backups(files.backups):
        return Opened(rewrite=True)
    opened = Opened()
    base = _choose_base(found, opened)
    if base.notice:
        opened.notices.append(base.notice)
    _tell_of_journal(found, opened)
    _replay(base, opened)
    opened.n += found.reading.damaged  # numbers that lost lines may have had are not given out again
    opened.lines, opened.size = found.reading.lines, found.reading.size
    _migrate(base.snapshot.format, found.reading.format, opened)
    return opened


def apply(line: Line, tables: Tables) -> None:
    """Do to the tables what the line says."""
    for change in line.changes:
        rows = tables.setdefault(change.table, {})
        if change.after == NO_ROW:
            rows.pop(change.key, None)
        else:
            rows[change.key] = change.after


def _find(files: LogFiles, limit: int | None) -> _Found:
    journal = durable.read_whole(files.journal)
    raw = durable.read_whole(files.snapshot)
    reading = lines.read((journal or b"")[:limit])
    folder = str(files.folder)
    migrations.refuse_newer(reading.format or 0, folder)
    try:
        read = snapshot.decode(raw) if raw is not None else None
        if read is not None and read.checksum not in reading.names:
            read = snapshot.checked(read)
    except StorageError:
        read = None
    if read is not None and (read.checksum in reading.names or not reading.names):
        migrations.refuse_newer(read.format, folder)
    return _Found(files, raw, read, journal, reading)


def _choose_base(found: _Found, opened: Opened) -> _Base:
    names, own = found.reading.names, found.snapshot
    if own is not None and own.checksum in names:
        return _Base(own, found.reading.lines)
    opened.rewrite = True
    if found.raw is not None and (names or own is None):
        opened.spoiled.append((found.files.snapshot, found.raw))
    for way in (_named_backup, _unnamed_snapshot, _whole_history, _older_backup):
        if (base := way(found)) is not None:
            return base
    return _last_resort(found)


def _named_backup(found: _Found) -> _Base | None:
    """The backup of the very snapshot that is missing or damaged."""
    for backup in backups.all_backups(found.files.backups):
        if backup.checksum in found.reading.names and (loaded := backup.load()) is not None:
            notice = f"{_trouble(found)}; its backup of {_day(backup.made_at)} and all changes since were opened. "
            return _Base(loaded, found.reading.lines, notice + NOTHING_LOST)
    return None


def _unnamed_snapshot(found: _Found) -> _Base | None:
    """The snapshot itself, where the journal that could vouch for it is gone or lost its heading."""
    if found.snapshot is None or found.reading.names:
        return None
    if found.journal is None:
        notice = (
            "The journal of the log (log.journal) is missing: changes made since the log was last closed "
            "properly may be missing too. Compare the last entries with your notes."
        )
        return _Base(found.snapshot, (), notice)
    return _Base(found.snapshot, found.reading.lines)


def _whole_history(found: _Found) -> _Base | None:
    """Every save since the first, where all journals are still there."""
    if not found.reading.names or found.reading.damaged:
        return None
    every = history.since(0, found.reading.lines, found.files.history)
    if not every:
        return None
    notice = f"{_trouble(found)}; it was built up again from the journals of all earlier sessions. {NOTHING_LOST}"
    return _Base(Snapshot({}, 0, migrations.FORMAT, ""), every, notice)


def _older_backup(found: _Found) -> _Base | None:
    """The newest good backup, with every later save from the journals where none is missing between."""
    for backup in backups.all_backups(found.files.backups):
        if (loaded := backup.load()) is None:
            continue
        later = history.since(loaded.n, found.reading.lines, found.files.history)
        complete = later is not None and bool(found.reading.names) and not found.reading.damaged
        notice = f"{_trouble(found)}; the backup of {_day(backup.made_at)} was opened"
        notice += " with all changes since. " + NOTHING_LOST if complete else _maybe_missing()
        return _Base(loaded, later if later is not None else found.reading.lines, notice)
    return None


def _maybe_missing() -> str:
    return (
        ", with those later changes that could be read. Some may be missing: compare the last entries with your notes."
    )


def _last_resort(found: _Found) -> _Base:
    """No backup at all: the snapshot unchecked, else what the journal alone holds."""
    if found.snapshot is not None:
        notice = (
            "The log (log.json) was changed by something other than gearlog and there is no backup to compare "
            "it with. It was opened as it is: check the entries you rely on."
        )
        return _Base(found.snapshot, found.reading.lines, notice)
    saved, count = salvage(found.raw or b"")
    notice = (
        f"{_trouble(found)}, and there is no good backup. {count} records and the changes since the last closing "
        f"could be read back; others may be missing: compare the log with your notes."
    )
    return _Base(saved, found.reading.lines, notice)


def _trouble(found: _Found) -> str:
    if found.raw is None:
        return "The log (log.json) is missing"
    return "The log (log.json) is damaged and was set aside"


def _day(moment: datetime) -> str:
    return f"{moment.astimezone():%Y-%m-%d %H:%M}"


def _tell_of_journal(found: _Found, opened: Opened) -> None:
    reading = found.reading
    if found.journal is None:
        opened.rewrite = True
        return
    opened.torn = reading.torn
    if reading.torn:
        opened.notices.append(
            "The last change had not been written to the end when the program or the computer stopped; it was "
            "left out. Everything that was saved before it is here."
        )
    opened.rewrite = opened.rewrite or reading.unended
    if reading.damaged or reading.format is None:
        opened.rewrite = True
        opened.spoiled.append((found.files.journal, found.journal))
        opened.notices.append(_damage_words(reading))


def _damage_words(reading: Reading) -> str:
    count = reading.damaged
    what = "its first line" if not count else "1 line" if count == 1 else f"{count} lines"
    return (
        f"The journal of the log (log.journal) is damaged in {what}; it was set aside and everything that could "
        f"be read was kept ({len(reading.lines)} changes). Compare the last entries with your notes."
    )


def _replay(base: _Base, opened: Opened) -> None:
    opened.tables, opened.n = base.snapshot.tables, base.snapshot.n
    for line in base.after:
        if line.n > opened.n:
            apply(line, opened.tables)
            opened.n = line.n


def _migrate(found: int, journal: int | None, opened: Opened) -> None:
    """Bring the tables up to date; ``journal`` is of its own format where a change of it stopped between the files."""
    oldest = min(found, journal if journal is not None else found)
    if oldest < migrations.FORMAT:
        opened.tables = migrations.migrate(opened.tables, found)
        opened.older = oldest
