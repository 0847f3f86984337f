"""A log of every format that ever was opens for ever, with every field as it was saved.

The logs lie in ``tests/data`` and are never changed: they are what an earlier program left on people's disks.
"""

from __future__ import annotations

import errno
import json
import shutil
from contextlib import suppress
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from gearlog.cli.main import main
from gearlog.domain.item import Item
from gearlog.domain.record import Record, to_plain
from gearlog.errors import StorageError
from gearlog.services.book import open_book
from gearlog.storage import Store, durable, lines, open_store
from gearlog.storage.codec import TABLES
from gearlog.storage.migrations import FORMAT
from tests.storage.test_full_disk import MOST_STEPS, FailingDisk

DATA = Path(__file__).parents[1] / "data"
FORMATS = range(1, FORMAT + 1)
LEFT_BEHIND = {
    1: "cc159866f478e18613cddb5f4c30a86418f222d8dc4e6b894907e2ba258563a2",
    2: "c54a1ec3cc1a6c2ac695e93d82860928f435b55d02cfcaf5101d6bf25ea1341e",
}
"""SHA-256 over the records and the journal, as the program of that format wrote them."""
HELD = {
    1: {"items": 4, "splices": 2, "events": 3, "benches": 1, "bench_stands": 1, "strength_tests": 1, "inspections": 1,
        "kits": 1},
    2: {"items": 6, "splices": 4, "events": 5, "benches": 1, "bench_stands": 1, "strength_tests": 2, "inspections": 2,
        "kits": 2},
}  # fmt: skip
"""How many records of each kind were saved, counted by hand when the log was made."""
LAST = {1: "add last", 2: "add last-2"}
"""The last change before the program was killed."""
WRITTEN = ("log.json", "log.journal")


@pytest.fixture(params=FORMATS)
def log(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[int, Path]:
    """A copy to work on."""
    shutil.copytree(DATA / f"format-{request.param}", tmp_path / "log")
    return request.param, tmp_path / "log"


def saved_rows(folder: Path) -> dict[str, dict[str, dict[str, Any]]]:
    """The rows as they stand in the files, read with nothing of the program's but the shape of a line."""
    tables: dict[str, Any] = json.loads((folder / "log.json").read_bytes())
    for raw in (folder / "log.journal").read_bytes().splitlines():
        line = json.loads(raw[lines.CHECKSUM_DIGITS + 1 :])
        for table, key, after, _ in line.get("changes", ()):
            rows = tables.setdefault(table, {})
            rows.pop(key, None)
            rows |= {} if after is None else {key: after}
    return {name: tables.get(name, {}) for name in TABLES.values()}


def as_saved(found: Any, saved: Any) -> Any:
    """What was found, without the fields that were unknown when it was saved, at any depth."""
    if isinstance(found, dict) and isinstance(saved, dict):
        return {name: as_saved(found.get(name), value) for name, value in saved.items()}
    if isinstance(found, list) and isinstance(saved, list) and len(found) == len(saved):
        return [as_saved(*pair) for pair in zip(found, saved, strict=True)]
    return found


def records(store: Store) -> dict[str, dict[str, Record]]:
    return {name: {record.id: record for record in store.records(kind)} for kind, name in TABLES.items()}


@pytest.mark.parametrize("number", FORMATS)
def test_what_an_earlier_program_left_behind_is_not_made_anew(number: int) -> None:
    found = sha256()
    for name in WRITTEN:
        found.update((DATA / f"format-{number}" / name).read_bytes())
    assert found.hexdigest() == LEFT_BEHIND[number]


def test_every_record_is_there_with_every_field_as_it_was_saved(log: tuple[int, Path]) -> None:
    number, folder = log
    rows = saved_rows(folder)
    with open_store(folder) as store:
        assert len(store.notices) == (number < FORMAT)
        found = records(store)
    assert {name: len(held) for name, held in found.items()} == HELD[number]
    for name, held in rows.items():
        for row in held.values():
            plain = json.loads(json.dumps(to_plain(found[name][row["id"]])))
            assert as_saved(plain, row) == row


def test_it_is_sound_goes_on_and_can_be_taken_back(log: tuple[int, Path]) -> None:
    number, folder = log
    assert main(["--log", str(folder), "check"]) == 0
    with open_book(folder, today=lambda: date(2026, 12, 1)) as book:
        book.gear.add({"name": "since", "category": "pulley"})
    with open_book(folder, today=lambda: date(2026, 12, 1)) as book:
        assert book.notices == (), "the change of the format is told once"
        assert (book.undo(), book.undo()) == ("add since", LAST[number])
        assert book.undo() is not None


def test_what_is_only_read_is_not_touched_whatever_its_format(log: tuple[int, Path]) -> None:
    number, folder = log
    before = files_of(folder)
    with open_store(folder, read_only=True) as store:
        assert {name: len(held) for name, held in records(store).items()} == HELD[number]
        assert store.notices == ()
        assert not store.refresh()
    assert files_of(folder) == before


def test_a_log_of_an_earlier_format_is_kept_as_it_was_before_it_is_changed(tmp_path: Path) -> None:
    folder = tmp_path / "log"
    shutil.copytree(DATA / "format-1", folder)
    with open_store(folder) as store:
        (told,) = store.notices
    kept = list((folder / "backups").glob("format-1-*"))
    assert len(kept) == 1
    assert str(kept[0].relative_to(folder)) in told
    assert [(kept[0] / name).read_bytes() for name in WRITTEN] == [
        (DATA / "format-1" / name).read_bytes() for name in WRITTEN
    ]
    for name in WRITTEN:
        assert b'"format":2' in (folder / name).read_bytes()
    for _ in range(5):
        with open_store(folder) as store:
            store.save(next(iter(store.records(Item))), label="nothing new")
    assert list((folder / "backups").glob("format-1-*")) == kept, "it does not go with the backups"


def test_an_earlier_log_that_cannot_be_kept_first_is_opened_only_to_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "log"
    shutil.copytree(DATA / "format-1", folder)
    before = {name: (folder / name).read_bytes() for name in WRITTEN}

    def full(path: Path, data: bytes) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(durable, "write_whole", full)
    with open_store(folder) as store:
        assert store.read_only
        assert "No space left on device" in store.notices[0]
        assert {name: len(held) for name, held in records(store).items()} == HELD[1]
    assert {name: (folder / name).read_bytes() for name in WRITTEN} == before


def test_a_change_of_format_that_stops_between_any_two_writings_is_made_the_next_time(tmp_path: Path) -> None:
    """Killing it would hit few of these moments; here the disk goes for good at each of them in turn."""
    for step in range(1, MOST_STEPS):
        folder = tmp_path / str(step)
        shutil.copytree(DATA / "format-1", folder)
        failing = FailingDisk(step, for_ever=True)
        with failing.installed(), suppress(StorageError):
            open_store(folder)
        with open_store(folder) as store:
            assert not store.read_only
            assert {name: len(held) for name, held in records(store).items()} == HELD[1]
            assert store.last_change() == LAST[1]
            assert not any("damaged" in notice or "missing" in notice for notice in store.notices)
        for name in WRITTEN:
            assert b'"format":2' in (folder / name).read_bytes()
        kept = [files_of(place) for place in (folder / "backups").glob("format-1-*")]
        assert {name: (DATA / "format-1" / name).read_bytes() for name in WRITTEN} in kept
        if failing.count < step:
            assert step > len(WRITTEN), "it has several steps"
            return
    pytest.fail("opening has more steps than were tried")


def files_of(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
