"""A backup is whole or not there; what comes back from one is the log, and nothing in one is believed unchecked."""

from __future__ import annotations

import json
import shutil
import stat
import zipfile
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from gearlog.domain.item import Item
from gearlog.domain.vocabulary import Category
from gearlog.errors import StorageError
from gearlog.storage import archive, open_store
from gearlog.storage.archive_reading import MANIFEST, is_safe, restore, verify

NOW = datetime(2026, 11, 1, 12, tzinfo=UTC)
PHOTO = "photos/" + "ab" * 32 + ".jpg"


def now() -> datetime:
    return NOW


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """A log of two items, the second only in the journal, with a method, a photo and files that are not part of it."""
    folder = tmp_path / "log"
    with open_store(folder, now=now) as store:
        store.save(item("1"), label="add")
    with open_store(folder, now=now) as store:
        store.save(item("2"), label="add")
        copy = tmp_path / "running"
        shutil.copytree(folder, copy)
    (copy / PHOTO).parent.mkdir()
    (copy / PHOTO).write_bytes(bytes(range(256)) * 999)
    (copy / "methods").mkdir()
    (copy / "methods" / "mine.toml").write_text('id = "mine"\n')
    (copy / ".log.json.1.new").write_bytes(b"left over")
    return copy


def item(number: str) -> Item:
    return Item(
        id=number * 16, created_at=NOW, changed_at=NOW, tag=f"t-{number}", category=Category.OTHER, name="חבל [/]"
    )


def test_what_comes_back_is_the_log_with_its_journal_photos_and_methods(log: Path, tmp_path: Path) -> None:
    found = archive.write(log, tmp_path / "b.zip", now)
    assert (found.findings, found.records["items"]) == ((), 2)
    again = restore(tmp_path / "b.zip", tmp_path / "new")
    assert again == found
    for path in sorted(path for path in log.rglob("*") if path.is_file()):
        name = path.relative_to(log)
        kept = name.parts[0] != "backups" and name.name not in {"log.lock", "log.holder", ".log.json.1.new"}
        assert (tmp_path / "new" / name).exists() == kept, name
        assert not kept or (tmp_path / "new" / name).read_bytes() == path.read_bytes()
    with open_store(tmp_path / "new") as store:
        assert store.notices == ()
        assert [one.tag for one in store.records(Item)] == ["t-1", "t-2"]
        assert store.undo() == "add"


def test_the_file_is_a_plain_zip_that_others_read(log: Path, tmp_path: Path) -> None:
    archive.write(log, tmp_path / "b.zip", now)
    with zipfile.ZipFile(tmp_path / "b.zip") as file:
        assert file.testzip() is None
        told = json.loads(file.read(MANIFEST))["files"]
        assert {name: entry["bytes"] for name, entry in told.items()} == {
            entry.filename: entry.file_size for entry in file.infolist() if entry.filename != MANIFEST
        }
    assert stat.S_IMODE((tmp_path / "b.zip").stat().st_mode) == 0o600


def test_a_file_that_is_there_stays_unless_it_is_given_up(log: Path, tmp_path: Path) -> None:
    (tmp_path / "b.zip").write_text("mine")
    with pytest.raises(StorageError, match="there already"):
        archive.write(log, tmp_path / "b.zip", now)
    assert (tmp_path / "b.zip").read_text() == "mine"
    assert archive.write(log, tmp_path / "b.zip", now, over=True).findings == ()
    with pytest.raises(StorageError, match="own folder"):
        archive.write(log, log / "b.zip", now)


def test_a_full_disk_leaves_the_earlier_backup_and_nothing_else(
    log: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "out" / "b.zip"
    target.parent.mkdir()
    target.write_text("earlier")

    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("gearlog.storage.archive.os.fsync", full)
    with pytest.raises(StorageError, match="No space left"):
        archive.write(log, target, now, over=True)
    assert [path.name for path in target.parent.iterdir()] == ["b.zip"]
    assert target.read_text() == "earlier"


def test_only_a_new_or_empty_folder_is_restored_to(log: Path, tmp_path: Path) -> None:
    archive.write(log, tmp_path / "b.zip", now)
    (tmp_path / "empty").mkdir()
    restore(tmp_path / "b.zip", tmp_path / "empty")
    (tmp_path / "file").write_text("x")
    for taken in (tmp_path / "empty", tmp_path / "file"):
        with pytest.raises(StorageError, match="not empty"):
            restore(tmp_path / "b.zip", taken)


@pytest.mark.parametrize("part", [0.02, 0.3, 0.7, 0.95, 0.999])
def test_half_a_backup_restores_nothing(log: Path, tmp_path: Path, part: float) -> None:
    archive.write(log, tmp_path / "b.zip", now)
    data = (tmp_path / "b.zip").read_bytes()
    (tmp_path / "half.zip").write_bytes(data[: int(len(data) * part)])
    with pytest.raises(StorageError):
        restore(tmp_path / "half.zip", tmp_path / "new")
    assert not (tmp_path / "new").exists()


def test_any_changed_byte_of_the_contents_is_found(log: Path, tmp_path: Path) -> None:
    archive.write(log, tmp_path / "b.zip", now)
    data = bytearray((tmp_path / "b.zip").read_bytes())
    for place in range(60, len(data) - 60, len(data) // 40):
        changed = bytearray(data)
        changed[place] ^= 0x55
        (tmp_path / "c.zip").write_bytes(changed)
        try:
            sound = not verify(tmp_path / "c.zip").findings
        except StorageError:
            continue
        if sound:  # a byte of a name or a date that the archive holds twice; what comes back is the same all the same
            restore(tmp_path / "c.zip", tmp_path / f"n{place}")
            assert (tmp_path / f"n{place}" / "log.json").read_bytes() == (log / "log.json").read_bytes()


Spoil = Callable[[zipfile.ZipFile, dict[str, object]], None]


def add_file(name: str, **listed: object) -> Spoil:
    def spoil(file: zipfile.ZipFile, files: dict[str, object]) -> None:
        file.writestr(name, b"x")
        files[name] = {
            "bytes": 1,
            "sha256": "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881",
        } | listed

    return spoil


def link(file: zipfile.ZipFile, files: dict[str, object]) -> None:
    entry = zipfile.ZipInfo("methods/passwd")
    entry.external_attr = (stat.S_IFLNK | 0o777) << 16
    file.writestr(entry, b"/etc/passwd")
    files["methods/passwd"] = {"bytes": 11, "sha256": "0" * 64}


def unlisted(file: zipfile.ZipFile, _files: dict[str, object]) -> None:
    file.writestr("methods/extra.toml", b"x")


def bomb(file: zipfile.ZipFile, files: dict[str, object]) -> None:
    file.writestr("photos/big.jpg", bytes(5_000_000), zipfile.ZIP_DEFLATED)
    files["photos/big.jpg"] = {"bytes": 10, "sha256": "0" * 64}


@pytest.mark.parametrize(
    "spoil",
    [
        *map(
            add_file, ("../out.txt", "/etc/out", "a/../../out", "C:/out", "a\\..\\out", "methods/nul.toml", "LOG.JSON")
        ),
        add_file("methods/a.toml", sha256="0" * 64),
        link,
        unlisted,
        bomb,
    ],
)
def test_nothing_leaves_the_folder_and_nothing_unlisted_gets_in(log: Path, tmp_path: Path, spoil: Spoil) -> None:
    archive.write(log, tmp_path / "b.zip", now)
    with zipfile.ZipFile(tmp_path / "b.zip") as good, zipfile.ZipFile(tmp_path / "bad.zip", "w") as bad:
        told = json.loads(good.read(MANIFEST))
        for name in told["files"]:
            bad.writestr(name, good.read(name))
        spoil(bad, told["files"])
        bad.writestr(MANIFEST, json.dumps(told))
    before = {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*")}
    with pytest.raises(StorageError) as refused:
        restore(tmp_path / "bad.zip", tmp_path / "new")
    assert "\n" not in refused.value.message
    assert {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*")} == before


@pytest.mark.parametrize("name", ["log.json", "photos/ab.jpg", "methods/נהר ü.toml", "history/.x"])
def test_names_of_files_in_the_folder_are_safe(name: str) -> None:
    assert is_safe(name)


def test_a_log_that_does_not_read_is_no_sound_backup(log: Path, tmp_path: Path) -> None:
    (log / "log.json").write_bytes((log / "log.json").read_bytes().replace(b'"other"', b'"anvil"'))
    with pytest.raises(StorageError, match="does not read back"):
        archive.write(log, tmp_path / "b.zip", now)
    assert not (tmp_path / "b.zip").exists()
