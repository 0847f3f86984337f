"""One file that holds a whole log: written beside its place, verified, and only then put there."""

from __future__ import annotations

import hashlib
import os
import zipfile
from collections.abc import Callable, Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path

import msgspec

from gearlog.domain.verified import Verified
from gearlog.errors import StorageError
from gearlog.storage import durable
from gearlog.storage.archive_reading import MANIFEST, Entry, Manifest, is_safe, verify
from gearlog.storage.locations import LogFiles
from gearlog.units.quoting import quoted

LEFT_OUT = frozenset({"log.lock", "log.holder", "backups"})
"""What belongs to the running program, and copies of what is taken anyway."""
TRIES = 5
"""How often the log is read again when another program wrote it meanwhile."""
CHUNK = 1 << 20  # bytes read at a time; a photo has a few of them
SEE_CHECK = "and see what is wrong with: gearlog check"
PACKED = frozenset({".json", ".journal", ".toml"})
"""Endings of text, which shrinks; photos are packed already."""


def write(folder: Path, target: Path, now: Callable[[], datetime], *, over: bool = False) -> Verified:
    """Put all of the log in ``folder`` into the file ``target``; returns what was found when it was read again.

    Without ``over`` a file that is there stays. Raises StorageError, with nothing at ``target`` changed.
    """
    place = target.resolve()
    if place.exists() and not (over and place.is_file()):
        raise StorageError(f"{quoted(str(target))} is there already; name another file, or overwrite it with --force")
    if folder.resolve() in place.parents:
        raise StorageError(f"{quoted(str(target))} lies in the log's own folder; name a place outside of it")
    fresh = place.with_name(f".{place.name[:100]}.{os.getpid()}.new")
    try:
        _pack(LogFiles(folder), fresh, now())
        found = verify(fresh)
        if found.findings:
            raise StorageError(f"the log does not read back: {found.findings[0]}; copy its folder {SEE_CHECK}")
        fresh.replace(place)
        durable.flush_folder(place.parent)
    except (OSError, ValueError, zipfile.LargeZipFile) as error:
        reason = getattr(error, "strerror", None) or error
        raise StorageError(f"{quoted(str(target))} could not be written: {reason}; name another place") from error
    finally:
        with suppress(OSError):
            fresh.unlink(missing_ok=True)
    return found


def _pack(files: LogFiles, fresh: Path, made_at: datetime) -> None:
    entries: dict[str, Entry] = {}
    with fresh.open("xb") as raw:
        fresh.chmod(durable.PRIVATE_FILE)
        with zipfile.ZipFile(raw, "w", strict_timestamps=False) as archive:
            for name, data in _pair(files).items():
                entries[name] = _put(archive, name, [data], zipfile.ZIP_DEFLATED)
            for path in _others(files):
                name = _named(path.relative_to(files.folder).as_posix())
                how = zipfile.ZIP_DEFLATED if path.suffix in PACKED else zipfile.ZIP_STORED
                entries[name] = _put(archive, name, _chunks(path), how)
            manifest = Manifest(made_at=made_at.isoformat(), files=entries)
            archive.writestr(MANIFEST, msgspec.json.encode(manifest))
        raw.flush()
        os.fsync(raw.fileno())


def _put(archive: zipfile.ZipFile, name: str, chunks: list[bytes] | Iterator[bytes], how: int) -> Entry:
    """Write one file and say what was written, by what was read and not by what its name promised."""
    found, size = hashlib.sha256(), 0
    entry = zipfile.ZipInfo(name)
    entry.compress_type = how
    entry.external_attr = durable.PRIVATE_FILE << 16
    with archive.open(entry, "w", force_zip64=True) as inside:
        for chunk in chunks:
            inside.write(chunk)
            found.update(chunk)
            size += len(chunk)
    return Entry(size, found.hexdigest())


def _pair(files: LogFiles) -> dict[str, bytes]:
    """Snapshot and journal as they belong together, also while another program writes them."""
    for _ in range(TRIES):
        before = _stamps(files)
        data = {path.name: durable.read_whole(path) for path in (files.snapshot, files.journal)}
        if _stamps(files) == before:
            return {name: bytes_ for name, bytes_ in data.items() if bytes_ is not None}
    raise StorageError("the log is being written all the time by another program; close that one, then try again")


def _stamps(files: LogFiles) -> list[tuple[int, int, int] | None]:
    stamps: list[tuple[int, int, int] | None] = []
    for path in (files.snapshot, files.journal):
        try:
            found = path.stat()
        except FileNotFoundError:
            stamps.append(None)
        else:
            stamps.append((found.st_ino, found.st_size, found.st_mtime_ns))
    return stamps


def _others(files: LogFiles) -> Iterator[Path]:
    """Every other file of the log, in an order that does not depend on the disk."""
    for parent, folders, names in os.walk(files.folder):
        folders[:] = sorted(name for name in folders if Path(parent, name) != files.backups)
        for name in sorted(names):
            path = Path(parent, name)
            if _is_kept(path, files) and path.is_file():
                yield path


def _named(name: str) -> str:
    if not is_safe(name):
        raise StorageError(f"not every system can hold a file named {quoted(name)}; rename it in the log's folder")
    return name


def _is_kept(path: Path, files: LogFiles) -> bool:
    if path in {files.snapshot, files.journal} or path.name in LEFT_OUT:
        return False
    return not (path.name.startswith(".") and path.suffix == ".new")


def _chunks(path: Path) -> Iterator[bytes]:
    with path.open("rb") as file:
        while chunk := file.read(CHUNK):
            yield chunk
