"""The log's files in use: one durable line a save, a fold now and then, and following another writer."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from pathlib import Path

import msgspec

from gearlog.storage import backups, durable, history, lines, snapshot
from gearlog.storage.durable import BINARY
from gearlog.storage.lines import Line, Tables
from gearlog.storage.locations import LogFiles
from gearlog.storage.migrations import FORMAT
from gearlog.storage.opening import Opened, read_log

FOLD_AT = 4_000_000
"""Bytes of journal that are folded without waiting for the end; replaying so much takes under 0.1 s."""
READ_TRIES = 5
"""How often a reader looks again when the writer folded between its two looks."""


class JournalFile:
    """The open journal of the one writer.

    Attributes:
        size: bytes that were acknowledged.
        sound: whether the file is known to end there.
        gone: whether it was moved or removed while it was open.
    """

    def __init__(self, files: LogFiles, size: int) -> None:
        self._path = os.fspath(files.journal)
        self._descriptor = os.open(files.journal.resolve(), os.O_WRONLY | os.O_APPEND | BINARY)
        self._itself = os.fstat(self._descriptor)
        self.size = size
        self.sound = True
        self.gone = False

    def append(self, data: bytes) -> None:
        """Bring one line to the disk, or leave none of it there and raise OSError."""
        try:
            durable.write_all(self._descriptor, data)
            durable.flush(self._descriptor)
            self.must_stand()
        except BaseException:
            self.cut()
            raise
        self.size += len(data)

    def must_stand(self) -> None:
        """Raise OSError where the file is not in its place: the system writes on into what is elsewhere or nowhere."""
        try:
            stands = os.path.samestat(os.stat(self._path), self._itself)  # noqa: PTH116 (at every save)
        except FileNotFoundError:
            stands = False
        if not stands:
            self.gone = True
            raise OSError(errno.ENOENT, "the folder of the log was moved, renamed or removed")

    def cut(self) -> None:
        """Cut off what was not acknowledged."""
        try:
            os.ftruncate(self._descriptor, self.size)
            os.fsync(self._descriptor)
        except OSError:
            self.sound = False
        self.sound = self.sound and not self.gone

    def close(self) -> None:
        """Close the file."""
        with suppress(OSError):
            os.close(self._descriptor)


class WriterDisk:
    """The files of a log that this program may write.

    Attributes:
        files: their names.
    """

    def __init__(self, files: LogFiles, now: Callable[[], datetime]) -> None:
        self.files = files
        self._now = now
        self._journal: JournalFile | None = None
        self._first = 1

    def open(self) -> Opened:
        """Read the log, mend what is damaged, and open the journal; raises OSError, StorageError."""
        opened = read_log(self.files)
        for path, data in opened.spoiled:
            durable.set_aside(path, data, self._now())
        self._first = opened.lines[0].n if opened.lines else opened.n + 1
        if opened.older is not None:
            opened.notices.append(self._keep_older(opened.older))
        if opened.rewrite or opened.older is not None:
            self._write_anew(opened.tables, opened.n)
            opened.lines = []
            return opened
        self._journal = JournalFile(self.files, opened.size)
        if self.files.journal.stat().st_size != opened.size:
            self._journal.cut()
        return opened

    @property
    def sound(self) -> bool:
        """Whether saves can go on."""
        return self._journal is not None and self._journal.sound

    @property
    def gone(self) -> bool:
        """Whether the log is no longer in its place."""
        return self._journal is not None and self._journal.gone

    @property
    def due_to_fold(self) -> bool:
        """Whether the journal has grown long."""
        return self._journal is not None and self._journal.size > FOLD_AT

    def append(self, data: bytes) -> None:
        """Bring one line to the disk, or leave none of it there and raise OSError."""
        if self._journal is None or not self._journal.sound:
            raise OSError("the journal is not open")
        self._journal.append(data)

    def read_again(self) -> Opened:
        """What the disk holds of the acknowledged saves."""
        return read_log(self.files, limit=self._journal.size if self._journal else None)

    def fold(self, tables: Tables, n: int) -> None:
        """Put everything into a new snapshot and begin a new journal; raises OSError with nothing lost.

        A crash between any two steps leaves a pair that opens to the same state: the journal names both the
        snapshot it began from and the one it was folded into.
        """
        if self._journal is not None:
            self._journal.must_stand()
        data = snapshot.encode(tables, n)
        backups.keep(self.files.backups, data, self._now())
        self.append(self._mark(data, n))
        durable.write_whole(self.files.snapshot, data)
        self._begin_journal(data, n)

    def close(self) -> None:
        """Close the journal."""
        if self._journal is not None:
            self._journal.close()
            self._journal = None

    def _keep_older(self, found: int) -> str:
        """Keep the log as an earlier program wrote it, before anything is changed; what to tell of it."""
        kept = backups.keep_older(self.files, found, self._now())
        return (
            f"The log is now in format {FORMAT}, which earlier versions of gearlog refuse to open. "
            f"As it was before, in format {found}, it is kept beside it in {kept.relative_to(self.files.folder)}."
        )

    def _write_anew(self, tables: Tables, n: int) -> None:
        """As a fold, where no sound pair stands."""
        data = snapshot.encode(tables, n)
        if self.files.journal.exists():
            backups.keep(self.files.backups, data, self._now())
            self._open_journal()
            self.append(b"\n" + self._mark(data, n))  # the line before it may lack its end
        durable.write_whole(self.files.snapshot, data)
        self._begin_journal(data, n)

    def _begin_journal(self, data: bytes, n: int) -> None:
        self.close()
        try:
            if self.files.journal.exists():
                history.keep_journal(self.files.journal, self.files.history, self._first)
            durable.write_whole(self.files.journal, self._mark(data, n, FORMAT))
            self._first = n + 1
        finally:
            self._open_journal()

    def _open_journal(self) -> None:
        self._journal = JournalFile(self.files, self.files.journal.stat().st_size)

    def _mark(self, data: bytes, n: int, version: int | None = None) -> bytes:
        """A line that names a snapshot: a heading when it bears the format's version."""
        named = lines.checksum(data)
        return lines.encode(Line(n=n, at=self._now().isoformat(), snapshot=named, format=version))


class ReaderDisk:
    """The files of a log that another program writes, or that cannot be written at all."""

    def __init__(self, files: LogFiles) -> None:
        self.files = files
        self._seen: tuple[_Stamp | None, _Stamp | None] | None = None
        self._read_to = 0

    def changed(self) -> bool:
        """Whether the writer was there since the last reading."""
        return self._look() != self._seen

    def open(self) -> Opened:
        """Read the log as it stands; looks again when the writer folded meanwhile."""
        for _ in range(READ_TRIES):
            before = self._look()
            opened = read_log(self.files)
            if not opened.rewrite and not opened.torn and self._look() == before:
                break
        self._seen = before
        self._read_to = opened.size if not opened.rewrite and opened.older is None else 0
        return opened

    def new_lines(self) -> list[Line] | None:
        """The saves added since the last reading, or None when the log must be read from its beginning."""
        now = self._look()
        if not self._only_grew(now):
            return None
        with self.files.journal.open("rb") as journal:
            journal.seek(self._read_to)
            reading = lines.read(journal.read())
        if reading.damaged or reading.names or reading.unended:
            return None
        self._read_to += reading.size
        if not reading.torn:
            self._seen = now
        return reading.lines

    def _only_grew(self, now: tuple[_Stamp | None, _Stamp | None]) -> bool:
        if self._seen is None or not self._read_to or self._seen[1] != now[1]:
            return False
        before, journal = self._seen[0], now[0]
        if before is None or journal is None:
            return False
        return before.number == journal.number and journal.size >= self._read_to

    def _look(self) -> tuple[_Stamp | None, _Stamp | None]:
        return _stamp(self.files.journal), _stamp(self.files.snapshot)


class _Stamp(msgspec.Struct, frozen=True):
    """What changes about a file when somebody writes it."""

    number: int
    size: int
    changed_ns: int


def _stamp(path: Path) -> _Stamp | None:
    try:
        found = path.stat()
    except OSError:
        return None
    return _Stamp(found.st_ino, found.st_size, found.st_mtime_ns)
