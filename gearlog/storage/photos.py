"""Photos in the log's folder: copied in once, named by what they show, and never looked for anywhere else."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

from gearlog.errors import NotFoundError, StorageError
from gearlog.storage import durable
from gearlog.units.quoting import quoted

FOLDER = "photos"
MOST_BYTES = 100_000_000  # a camera's largest raw picture; more is a film or a slip
KINDS = frozenset({"jpg", "jpeg", "png", "gif", "webp", "heic", "heif", "avif", "tif", "tiff", "bmp"})
"""Endings of files that hold a picture; nothing else is copied, for what is opened must not be a program."""
_NAME = re.compile(rf"[0-9a-f]{{64}}\.(?:{'|'.join(sorted(KINDS))})", re.ASCII)


def is_kept(name: str) -> bool:
    """Whether ``name`` is that of a kept photo: its SHA-256 in hexadecimal digits and its kind."""
    return _NAME.fullmatch(name) is not None


def keep(folder: Path, photo: Path) -> str:
    """Copy a picture into the folder of the log and return its name there; the same picture is kept once.

    Raises StorageError where it cannot be read, is no picture, is too large, or the folder cannot be written.
    """
    kind = photo.suffix[1:].lower()
    if kind not in KINDS:
        raise StorageError(f"{quoted(photo.name)} is no picture by its name; choose one of: {', '.join(sorted(KINDS))}")
    data = _read(photo)
    name = f"{hashlib.sha256(data).hexdigest()}.{kind}"
    try:
        _write(folder / FOLDER / name, data)
    except OSError as error:
        raise StorageError(f"{quoted(photo.name)} cannot be copied into the log: {error.strerror or error}") from error
    return name


def path_of(folder: Path, name: str) -> Path:
    """Where a kept photo lies; raises NotFoundError for any other name, and where the file is not there."""
    if not is_kept(name):
        raise NotFoundError(f"{quoted(name)} is not a photo in the log's folder; look for it where it was taken")
    place = folder / FOLDER / name
    if place.is_symlink() or not place.is_file():
        raise NotFoundError(f"the photo {name} is not in {folder / FOLDER} any more; put it back from a backup")
    return place


def _read(photo: Path) -> bytes:
    try:
        if not photo.is_file():
            raise StorageError(f"{quoted(str(photo))} is not a file; type where the photo lies")
        if photo.stat().st_size > MOST_BYTES:
            raise StorageError(f"{quoted(photo.name)} has more than {MOST_BYTES:,} bytes; make it smaller first")
        return photo.read_bytes()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise StorageError(f"{quoted(str(photo))} cannot be read: {reason}; type where the photo lies") from error


def _write(place: Path, data: bytes) -> None:
    """The whole file or none of it, on the disk when this returns."""
    if place.is_symlink():
        place.unlink()  # writing would follow it out of the log
    if not place.is_file():
        durable.make_folder(place.parent)
        durable.write_whole(place, data)
