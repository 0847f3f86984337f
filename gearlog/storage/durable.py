"""Bytes that are on the disk when a call returns, readable by their owner alone."""

from __future__ import annotations

import os
import stat
from contextlib import suppress
from datetime import datetime
from pathlib import Path

PRIVATE_FILE = 0o600
PRIVATE_FOLDER = 0o700
BINARY = getattr(os, "O_BINARY", 0)
"""Windows would change line ends without it."""


def make_folder(folder: Path) -> None:
    """Make a folder that only its owner enters, and bring its name to the disk; one that exists keeps its mode."""
    if folder.is_dir():
        return
    make_folder(folder.parent)
    folder.mkdir(mode=PRIVATE_FOLDER, exist_ok=True)
    flush_folder(folder.parent)


def read_whole(path: Path) -> bytes | None:
    """The file's bytes, or None when there is no such file."""
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return None


def write_all(descriptor: int, data: bytes) -> None:
    """Write every byte, also where the system takes them in parts."""
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(descriptor, rest) :]


def flush(descriptor: int) -> None:
    """Bring the file's bytes to the disk."""
    if hasattr(os, "fdatasync"):
        os.fdatasync(descriptor)
    else:
        os.fsync(descriptor)


def flush_folder(folder: Path) -> None:
    """Bring the names in a folder to the disk, where the system can."""
    if os.name != "posix":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def write_whole(path: Path, data: bytes) -> None:
    """Put ``data`` in the file's place at once: a reader or a crash sees the old bytes or the new.

    A link is followed, so that it is its target that is replaced; a file that exists keeps its mode.
    """
    target = path.resolve()
    beside = target.with_name(f".{target.name}.{os.getpid()}.new")
    try:
        _write_new(beside, data, _mode_of(target))
        beside.replace(target)
    except BaseException:
        with suppress(OSError):
            beside.unlink()
        raise
    flush_folder(target.parent)


def set_aside(path: Path, data: bytes, when: datetime) -> Path:
    """Keep damaged ``data`` of ``path`` beside it under a name with the date; overwrites nothing."""
    target = path.resolve()
    stamp = f"{when:%Y-%m-%d-%H%M%S}"
    number = 1
    while True:
        aside = target.with_name(f"{target.stem}.damaged-{stamp}-{number}{target.suffix}")
        if not aside.exists():
            break
        number += 1
    _write_new(aside, data, PRIVATE_FILE)
    flush_folder(aside.parent)
    return aside


def _write_new(path: Path, data: bytes, mode: int) -> None:
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | BINARY, mode)
    try:
        write_all(descriptor, data)
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _mode_of(path: Path) -> int:
    try:
        return stat.S_IMODE(path.stat().st_mode)
    except FileNotFoundError:
        return PRIVATE_FILE
