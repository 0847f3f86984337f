"""A log of every format that ever was opens for ever, with every field as it was saved.

The logs lie in ``tests/data`` and are never changed: they are what an earlier program left on people's disks.
"""

from __future__ import annotations

import json
import shutil
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from gearlog.cli.main import main
from gearlog.domain.record import Record, to_plain
from gearlog.services.book import open_book
from gearlog.storage import Store, lines, open_store
from gearlog.storage.codec import TABLES
from gearlog.storage.migrations import FORMAT

DATA = Path(__file__).parents[1] / "data"
FORMATS = range(1, FORMAT + 1)
LEFT_BEHIND = {1: "cc159866f478e18613cddb5f4c30a86418f222d8dc4e6b894907e2ba258563a2"}
"""SHA-256 over the records and the journal, as the program of that format wrote them."""
HELD = {
    1: {"items": 4, "splices": 2, "events": 3, "benches": 1, "bench_stands": 1, "strength_tests": 1, "inspections": 1,
        "kits": 1},
}  # fmt: skip
"""How many records of each kind were saved, counted by hand when the log was made."""


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


def records(store: Store) -> dict[str, dict[str, Record]]:
    return {name: {record.id: record for record in store.records(kind)} for kind, name in TABLES.items()}


@pytest.mark.parametrize("number", FORMATS)
def test_what_an_earlier_program_left_behind_is_not_made_anew(number: int) -> None:
    found = sha256()
    for name in ("log.json", "log.journal"):
        found.update((DATA / f"format-{number}" / name).read_bytes())
    assert found.hexdigest() == LEFT_BEHIND[number]


def test_every_record_is_there_with_every_field_as_it_was_saved(log: tuple[int, Path]) -> None:
    number, folder = log
    rows = saved_rows(folder)
    with open_store(folder) as store:
        assert store.notices == ()
        found = records(store)
    assert {name: len(held) for name, held in found.items()} == HELD[number]
    for name, held in rows.items():
        for row in held.values():
            plain = json.loads(json.dumps(to_plain(found[name][row["id"]])))
            assert {field: plain.get(field) for field in row} == row


def test_it_is_sound_goes_on_and_can_be_taken_back(log: tuple[int, Path]) -> None:
    _, folder = log
    assert main(["--log", str(folder), "check"]) == 0
    with open_book(folder, today=lambda: date(2026, 12, 1)) as book:
        book.gear.add({"name": "since", "category": "pulley"})
    with open_book(folder, today=lambda: date(2026, 12, 1)) as book:
        assert book.notices == ()
        assert (book.undo(), book.undo()) == ("add since", "add last")
        assert book.undo() is not None
