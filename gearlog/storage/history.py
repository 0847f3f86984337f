"""The changes of the past: earlier journals on disk, and which change can be taken back or done again."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path

from gearlog.storage import durable, lines
from gearlog.storage.lines import Line
from gearlog.storage.migrations import rows_alike

KEEP_JOURNALS = 200
"""Folded journals that stay for undo; one is written a session."""


def keep_journal(journal: Path, folder: Path, first: int) -> None:
    """Put a folded journal, whose first save has number ``first``, among the earlier ones."""
    durable.make_folder(folder)
    target = folder / f"from-{first:09d}.journal"
    with suppress(FileNotFoundError):
        target.unlink()
    try:
        os.link(journal.resolve(), target)
    except OSError:  # some file systems know no second name for a file
        shutil.copyfile(journal, target)
        target.chmod(durable.PRIVATE_FILE)
    for old in _journals(folder)[KEEP_JOURNALS:]:
        with suppress(OSError):
            old.unlink()


def _journals(folder: Path) -> list[Path]:
    return sorted(folder.glob("from-*.journal"), reverse=True) if folder.is_dir() else []


def backwards(current: Iterable[Line], folder: Path | None) -> Iterator[Line]:
    """Every save, newest first: those of the open journal, then those of earlier journals."""
    oldest = None
    for line in reversed(tuple(current)):
        oldest = line.n
        yield line
    for path in _journals(folder) if folder is not None else ():
        for line in reversed(_lines_of(path)):
            if oldest is None or line.n < oldest:  # a fold that was cut short leaves lines in both
                oldest = line.n
                yield line


def _lines_of(path: Path) -> list[Line]:
    """The saves of one journal; rows that an older format wrote in another way are not put back into a newer log."""
    try:
        reading = lines.read(path.read_bytes())
    except OSError:
        return []
    return reading.lines if rows_alike(reading.format) else []


def since(n: int, current: Iterable[Line], folder: Path) -> list[Line] | None:
    """Every save after number ``n`` in order, or None when one is missing between."""
    found: list[Line] = []
    for line in backwards(current, folder):
        if line.n <= n:
            break
        found.append(line)
    found.reverse()
    complete = [line.n for line in found] == list(range(n + 1, n + 1 + len(found)))
    return found if complete else None


def to_undo(newest_first: Iterable[Line]) -> Line | None:
    """The last change that still stands, or None."""
    return next(standing(newest_first), None)


def standing(newest_first: Iterable[Line]) -> Iterator[Line]:
    """The changes that still stand, the newest first."""
    undone: dict[int, bool] = {}
    for line in newest_first:
        if line.undoes is not None:
            undone.setdefault(line.undoes, True)
        elif line.redoes is not None:
            undone.setdefault(line.redoes, False)
        elif not undone.get(line.n, False):
            yield line


def to_redo(newest_first: Iterable[Line]) -> Line | None:
    """The undoing line to take back next, or None when there is none or something new was done since."""
    redone: set[int] = set()
    for line in newest_first:
        if line.undoes is None and line.redoes is None:
            return None
        if line.redoes is not None:
            redone.add(line.redoes)
        elif line.undoes not in redone:
            return line
    return None
