"""Torn, flipped, missing and foreign bytes: opened to the newest good state, told in words, never overwritten."""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path

import pytest

from gearlog.domain.item import Item
from gearlog.domain.record import to_plain
from gearlog.storage import Store, open_store
from gearlog.storage.lines import plain
from gearlog.storage.locations import LogFiles
from gearlog.storage.opening import read_log

MakeItem = Callable[..., Item]
STEP = 5
"""Every so many bytes one is flipped; the offset varies with the bit."""


def names(store: Store) -> dict[str, str]:
    return {item.tag: item.name for item in store.records(Item)}


@pytest.fixture
def log(folder: Path, make_item: MakeItem) -> Path:
    """Two sessions folded (tags 0-5), and one that was never closed (6-9, and 0 renamed)."""
    for first in (0, 3):
        with open_store(folder) as store:
            for number in range(first, first + 3):
                store.save(make_item(number, f"name {number}"), label=f"Add {number}")
    store = open_store(folder)
    for number in range(6, 10):
        store.save(make_item(number, f"name {number}"), label=f"Add {number}")
    store.save(make_item(0, "renamed"), label="Rename")
    journal = LogFiles(folder).journal.read_bytes()
    store.close()
    before_closing(folder, journal)
    return folder


def before_closing(folder: Path, journal: bytes) -> None:
    """Put the files back to what they were before the last session closed."""
    files = LogFiles(folder)
    for backup in sorted(files.backups.iterdir(), key=lambda path: path.stat().st_mtime_ns)[-1:]:
        backup.unlink()
    newest = max(files.backups.iterdir(), key=lambda path: path.stat().st_mtime_ns)
    files.snapshot.write_bytes(newest.read_bytes())
    max(files.history.iterdir()).unlink()
    files.journal.write_bytes(journal)


ALL = {f"tag-{number}": f"name {number}" for number in range(10)} | {"tag-0": "renamed"}


def asides(folder: Path) -> list[Path]:
    return sorted(path for path in folder.iterdir() if ".damaged-" in path.name)


def test_the_log_of_these_tests_is_sound(log: Path) -> None:
    with open_store(log) as store:
        assert names(store) == ALL
        assert store.notices == ()


def test_a_last_line_torn_at_any_byte_is_dropped_with_a_word_and_nothing_else(log: Path, tmp_path: Path) -> None:
    files = LogFiles(log)
    whole = files.journal.read_bytes()
    start = whole.rindex(b"\n", 0, -1) + 1
    before = ALL | {"tag-0": "name 0"}
    for cut in range(start, len(whole)):
        files.journal.write_bytes(whole[:cut])
        opened = read_log(files)
        found = {row["tag"]: row["name"] for row in map(plain, opened.tables["items"].values())}
        complete = cut == len(whole) - 1
        assert found == (ALL if complete else before), cut
        assert bool(opened.notices) == (start < cut < len(whole) - 1), cut


@pytest.mark.parametrize("missing", [1, 2, 40])
def test_a_torn_log_opens_tells_and_takes_the_next_save(log: Path, make_item: MakeItem, missing: int) -> None:
    files = LogFiles(log)
    whole = files.journal.read_bytes()
    files.journal.write_bytes(whole[:-missing])
    store = open_store(log)
    assert len(store.notices) == (missing > 1)
    store.save(make_item(50, "after"), label="Add after")
    again = open_store(log, read_only=True)
    assert names(again) == names(store)
    assert names(again)["tag-50"] == "after"
    assert again.notices == ()
    store.close()
    assert asides(log) == []


def flips(data: bytes, seed: int) -> Iterator[tuple[int, bytes]]:
    dice = random.Random(seed)  # noqa: S311 (which bit, not a secret)
    for start in range(0, len(data), STEP):
        place = min(start + dice.randrange(STEP), len(data) - 1)
        spoiled = bytearray(data)
        spoiled[place] ^= 1 << dice.randrange(8)
        yield place, bytes(spoiled)


def test_a_flipped_bit_in_the_snapshot_loses_nothing(log: Path) -> None:
    files = LogFiles(log)
    for place, spoiled in flips(files.snapshot.read_bytes(), 1):
        files.snapshot.write_bytes(spoiled)
        opened = read_log(files)
        assert {row["tag"]: row["name"] for row in map(plain, opened.tables["items"].values())} == ALL, place
        assert any("Nothing was lost" in notice for notice in opened.notices), place
        assert [path for path, _ in opened.spoiled] == [files.snapshot], place


def test_a_flipped_bit_in_the_journal_costs_at_most_its_own_line_and_is_told(log: Path) -> None:
    files = LogFiles(log)
    whole = files.journal.read_bytes()
    starts = [0, *(place + 1 for place, sign in enumerate(whole) if sign == ord("\n"))]
    for place, spoiled in flips(whole, 2):
        files.journal.write_bytes(spoiled)
        opened = read_log(files)
        line = sum(start <= place for start in starts) - 1  # 0 is the heading; 1-4 add 6-9; 5 renames 0
        expected = dict(ALL)
        if line == 5:
            expected["tag-0"] = "name 0"
        elif line:
            del expected[f"tag-{line + 5}"]
        found = {row["tag"]: row["name"] for row in map(plain, opened.tables["items"].values())}
        assert found in (expected, ALL), place
        assert opened.notices or found == ALL, place
        assert opened.spoiled or opened.torn or opened.rewrite, place


@pytest.mark.parametrize("name", ["log.json", "log.journal"])
def test_damage_is_set_aside_unchanged_and_the_log_is_whole_again(log: Path, name: str, make_item: MakeItem) -> None:
    path = log / name
    spoiled = bytearray(path.read_bytes())
    spoiled[len(spoiled) // 2] ^= 4
    path.write_bytes(spoiled)

    with open_store(log) as store:
        assert store.notices
        store.save(make_item(60), label="Add 60")
    (aside,) = asides(log)

    assert aside.read_bytes() == spoiled
    with open_store(log) as store:
        assert store.notices == ()
        assert "tag-60" in names(store)


def test_two_damages_in_one_second_do_not_overwrite_each_other(log: Path, clock: Callable[[], datetime]) -> None:
    moment = clock()
    for text in (b"first", b"second"):
        (log / "log.json").write_bytes(text)
        open_store(log, now=lambda: moment).close()
    assert [path.read_bytes() for path in asides(log)] == [b"first", b"second"]


@pytest.mark.parametrize("content", [b"", b"{", b"null", b"[]", b"\x00" * 500, b'{"unit": 4}', b"\xff\xfe"])
@pytest.mark.parametrize("name", ["log.json", "log.journal", "settings.json"])
def test_a_file_of_anything_else_never_stops_the_log_from_opening(log: Path, name: str, content: bytes) -> None:
    (log / name).write_bytes(content)
    with open_store(log) as store:
        assert store.notices
        kept = (
            ALL if name != "log.journal" else {tag: ALL[tag] for tag in ("tag-1", "tag-2", "tag-3", "tag-4", "tag-5")}
        )
        assert names(store).items() >= kept.items()
    with open_store(log) as store:
        assert store.notices == ()


@pytest.mark.parametrize(("name", "word"), [("log.json", "Nothing was lost"), ("log.journal", "missing")])
def test_a_missing_file_is_told(log: Path, name: str, word: str) -> None:
    (log / name).unlink()
    with open_store(log) as store:
        assert word in " ".join(store.notices)
        assert len(names(store)) == (10 if name == "log.json" else 6)


def test_with_only_backups_and_history_left_the_newest_is_opened(log: Path) -> None:
    for name in ("log.json", "log.journal"):
        (log / name).unlink()
    with open_store(log) as store:
        assert "backup" in " ".join(store.notices)
        assert set(names(store)) == {f"tag-{number}" for number in range(6)}


def test_an_older_backup_and_the_journals_since_make_up_for_a_lost_snapshot_and_its_backup(log: Path) -> None:
    (log / "log.json").write_bytes(b"rubbish")
    newest = max((log / "backups").iterdir(), key=lambda path: path.stat().st_mtime_ns)
    newest.unlink()
    with open_store(log) as store:
        assert names(store) == ALL
        assert "Nothing was lost" in " ".join(store.notices)


def test_without_any_backup_the_journals_of_all_sessions_build_the_log_up_again(log: Path) -> None:
    shutil.rmtree(log / "backups")
    (log / "log.json").write_bytes(b"rubbish")
    with open_store(log) as store:
        assert list(names(store).items()) == list(ALL.items())
        assert "Nothing was lost" in " ".join(store.notices)


def test_without_backups_or_history_every_whole_record_is_read_back(log: Path) -> None:
    for name in ("backups", "history"):
        shutil.rmtree(log / name)
    whole = (log / "log.json").read_bytes()
    for place, spoiled in flips(whole, 3):
        (log / "log.json").write_bytes(spoiled)
        opened = read_log(LogFiles(log))
        rows = [plain(row) for table in opened.tables.values() for row in table.values()]
        hit = whole[:place].count(b"\n") - 5  # the lines before the first record
        wanted = {tag for number, tag in enumerate(ALL) if number not in (hit, hit + 1)}
        assert {row.get("tag") for row in rows} >= wanted, place
        assert opened.notices, place


def test_a_snapshot_edited_by_hand_is_set_aside_and_the_checked_state_opened(log: Path) -> None:
    path = log / "log.json"
    path.write_bytes(path.read_bytes().replace(b"name 4", b"name X"))
    with open_store(log) as store:
        assert names(store)["tag-4"] == "name 4"
    assert b"name X" in asides(log)[0].read_bytes()


def test_a_reader_of_a_damaged_log_touches_nothing(log: Path) -> None:
    (log / "log.json").write_bytes(b"rubbish")
    before = {path: path.read_bytes() for path in log.rglob("*") if path.is_file()}
    with open_store(log, read_only=True) as store:
        assert names(store) == ALL
        assert store.notices
    assert {path: path.read_bytes() for path in log.rglob("*") if path.is_file()} == before


def test_a_row_that_is_no_record_is_told_and_stays_in_the_file(folder: Path, make_item: MakeItem) -> None:
    with open_store(folder) as store:
        store.save(make_item(1), make_item(2, "spoiled later"), label="Add")
    edited = (folder / "log.json").read_bytes().replace(b'"name":"spoiled later"', b'"name":17')
    shutil.rmtree(folder / "backups")
    (folder / "log.journal").unlink()
    (folder / "log.json").write_bytes(edited)
    with open_store(folder) as store:
        assert [item.tag for item in store.records(Item)] == ["tag-1"]
        assert any("tag-2" in notice and "name" in notice for notice in store.notices)
        store.save(make_item(3), label="Add 3")
    assert b'"name":17' in (folder / "log.json").read_bytes()


def test_fields_of_others_stay_in_a_row_that_is_saved(folder: Path, make_item: MakeItem) -> None:
    with open_store(folder) as store:
        store.save(make_item(1), label="Add")
    text = (folder / "log.json").read_bytes().replace(b'"tag":', b'"colour":"orange","tag":')
    shutil.rmtree(folder / "backups")
    (folder / "log.journal").unlink()
    (folder / "log.json").write_bytes(text)
    with open_store(folder) as store:
        store.save(make_item(1, "renamed"), label="Rename")
        assert to_plain(store.records(Item)[0])["name"] == "renamed"
    assert b'"colour":"orange"' in (folder / "log.json").read_bytes()
