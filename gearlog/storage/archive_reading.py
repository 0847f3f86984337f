"""Reading a backup file as if a stranger had made it: names, sizes and sums are checked before anything is believed."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import stat
import tempfile
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path, PurePosixPath

import msgspec

from gearlog.domain.record import Record
from gearlog.domain.verified import Verified
from gearlog.errors import StorageError
from gearlog.storage import durable, loading
from gearlog.storage.codec import TABLES, Shelf, fault_notice
from gearlog.storage.lines import RowText
from gearlog.storage.locations import LogFiles
from gearlog.storage.opening import read_log
from gearlog.units.quoting import quoted

MANIFEST = "gearlog-backup.json"
"""Names every file of the backup with its size and sum."""
LARGEST_MANIFEST = 64_000_000  # bytes; a quarter of a million photos
MOST_FILES = 250_000
CHUNK = 1 << 20
_NAME = re.compile(r"[^\x00-\x1f\x7f\\:*?\"<>|]{1,200}")
"""A part of a file's name that every system can hold."""
_DEVICES = frozenset(
    {"con", "prn", "aux", "nul", *(f"{name}{digit}" for name in ("com", "lpt") for digit in "123456789")}
)
"""Names that some systems take for a device whatever their ending."""


class Entry(msgspec.Struct, frozen=True):
    """One file of a backup."""

    bytes: int
    sha256: str


class Manifest(msgspec.Struct, frozen=True, kw_only=True):
    """What a backup says of itself."""

    program: str = "gearlog"
    backup: int = 1
    made_at: str
    files: dict[str, Entry]


def verify(file: Path) -> Verified:
    """Read a backup to its last byte and open the log in it; raises StorageError where it cannot be read at all."""
    with _opened(file) as archive, tempfile.TemporaryDirectory(prefix="gearlog-") as place:
        manifest = _manifest(archive, file)
        findings = [finding for name in manifest.files if (finding := _bad(archive, manifest, name))]
        log = Path(place)
        records: dict[str, int] = {}
        if not findings:
            for name in manifest.files:
                if PurePosixPath(name).suffix in {".json", ".journal"} and not name.startswith("photos/"):
                    _extract(archive, manifest, name, log)
            records, findings = _log_in(log)
        return Verified(
            made_at=manifest.made_at,
            files=len(manifest.files),
            bytes=sum(entry.bytes for entry in manifest.files.values()),
            records=records,
            findings=tuple(findings),
        )


def restore(file: Path, folder: Path) -> Verified:
    """Put the log of a backup into ``folder``, which must be new or empty: all of it or none.

    Raises StorageError, with nothing at ``folder`` changed.
    """
    try:
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            raise StorageError(f"{quoted(str(folder))} is not empty; name a new folder, for example: --log restored")
        found = verify(file)
        if found.findings:
            raise StorageError(f"{quoted(file.name)} is damaged: {found.findings[0]}; nothing was restored")
        _put_in_place(file, folder)
    except OSError as error:
        raise StorageError(f"{quoted(str(folder))} cannot be written: {error.strerror or error}") from error
    return found


def _put_in_place(file: Path, folder: Path) -> None:
    place = folder.resolve()
    durable.make_folder(place.parent)
    fresh = place.with_name(f".{place.name[:100]}.{os.getpid()}.new")
    fresh.mkdir(mode=durable.PRIVATE_FOLDER)
    try:
        with _opened(file) as archive:
            manifest = _manifest(archive, file)
            for name in manifest.files:
                _extract(archive, manifest, name, fresh)
        if place.exists():
            place.rmdir()
        fresh.replace(place)
        durable.flush_folder(place.parent)
    finally:
        with suppress(OSError):
            shutil.rmtree(fresh, ignore_errors=True)


@contextmanager
def _opened(file: Path) -> Iterator[zipfile.ZipFile]:
    """The archive; every way in which it can be broken ends in one line."""
    try:
        with zipfile.ZipFile(file) as archive:
            yield archive
    except FileNotFoundError as error:
        raise StorageError(f"there is no file {quoted(str(file))}; name a backup that is there") from error
    except (zipfile.BadZipFile, EOFError, NotImplementedError, RuntimeError, ValueError) as error:
        reason = f"{quoted(file.name)} is no whole backup of gearlog: {error}"
        raise StorageError(f"{reason}; take another copy of it") from error
    except OSError as error:
        raise StorageError(f"{quoted(str(file))} cannot be read: {error.strerror or error}") from error


def _manifest(archive: zipfile.ZipFile, file: Path) -> Manifest:
    names = [entry.filename for entry in archive.infolist()]
    if MANIFEST not in names or archive.getinfo(MANIFEST).file_size > LARGEST_MANIFEST:
        raise StorageError(f"{quoted(file.name)} is no backup of gearlog: it has no list of its files")
    try:
        manifest = msgspec.json.decode(archive.read(MANIFEST), type=Manifest)
    except msgspec.MsgspecError as error:
        raise StorageError(f"{quoted(file.name)} is damaged: its list of files does not read") from error
    if manifest.backup > Manifest(made_at="", files={}).backup:
        raise StorageError(f"{quoted(file.name)} was made by a newer gearlog; use that one to restore it")
    fault = _names_fault(names, manifest)
    if fault:
        raise StorageError(f"{quoted(file.name)} is not to be trusted: {fault}; nothing was taken from it")
    return manifest


def _names_fault(names: list[str], manifest: Manifest) -> str:
    """What is wrong with the names, before any of them is used."""
    if len(names) > MOST_FILES:
        return f"it holds {len(names):,} files"
    if sorted(names) != sorted([MANIFEST, *manifest.files]):
        return "its files are not those of its list"
    if len({name.casefold() for name in names}) != len(names):
        return "two of its files have one name"
    bad = next((name for name in manifest.files if not is_safe(name)), None)
    return f"the name {quoted(bad)} leads out of the log's folder or cannot be a file" if bad is not None else ""


def is_safe(name: str) -> bool:
    """Whether a file of this name stays in the folder that it is put in, on every system."""
    parts = name.split("/")
    return len(name) <= MOST_SIGNS and all(
        _NAME.fullmatch(part)
        and not set(part) <= {"."}
        and part[-1] not in " ."
        and part.partition(".")[0].casefold() not in _DEVICES
        for part in parts
    )


MOST_SIGNS = 400
"""Of a file's name with its folders; older systems take 260 with what stands before it."""


def _bad(archive: zipfile.ZipFile, manifest: Manifest, name: str) -> str:
    """What is wrong with one file; empty when nothing is."""
    entry, told = archive.getinfo(name), manifest.files[name]
    kind = stat.S_IFMT(entry.external_attr >> 16)
    if kind not in {0, stat.S_IFREG}:
        return f"{quoted(name)} is a link and no file"
    if entry.file_size != told.bytes:
        return f"{quoted(name)} has {entry.file_size:,} bytes and not {told.bytes:,}"
    try:
        found = hashlib.sha256()
        for chunk in _chunks(archive, name, told.bytes):
            found.update(chunk)
    except (zipfile.BadZipFile, EOFError, OSError, StorageError, zlib.error) as error:
        return f"{quoted(name)} does not read: {error}"
    return "" if found.hexdigest() == told.sha256 else f"{quoted(name)} is not what was written"


def _chunks(archive: zipfile.ZipFile, name: str, size: int) -> Iterator[bytes]:
    """The file's bytes; one that unpacks to more than it says is refused and not written on."""
    left = size
    with archive.open(name) as inside:
        while chunk := inside.read(CHUNK):
            left -= len(chunk)
            if left < 0:
                raise StorageError("it holds more than it says")
            yield chunk


def _extract(archive: zipfile.ZipFile, manifest: Manifest, name: str, folder: Path) -> None:
    place = folder.joinpath(*name.split("/"))
    durable.make_folder(place.parent)
    with place.open("xb") as file:
        place.chmod(durable.PRIVATE_FILE)
        for chunk in _chunks(archive, name, manifest.files[name].bytes):
            file.write(chunk)
        file.flush()
        os.fsync(file.fileno())


def _log_in(folder: Path) -> tuple[dict[str, int], list[str]]:
    """The records of an unpacked log by kind, and what is wrong with it."""
    with loading.quiet():
        opened = read_log(LogFiles(folder))
        findings, records = list(opened.notices), {}
        for kind, name in TABLES.items():
            rows = opened.tables.get(name, {})
            shelf = _shelf(kind, rows)
            records[name] = len(shelf.records())
            findings += [fault_notice(shelf, rows)] if shelf.faults else []
    return records, findings


def _shelf(kind: type[Record], rows: dict[str, RowText]) -> Shelf[Record]:
    return Shelf(kind, lambda: rows)
