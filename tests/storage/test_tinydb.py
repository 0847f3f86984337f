"""The journal under TinyDB behaves as TinyDB does, and what of it we lean on is still there."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tinydb import TinyDB, where
from tinydb.storages import JSONStorage, MemoryStorage, Storage
from tinydb.table import Table

from gearlog.domain.item import Item
from gearlog.domain.vocabulary import Category
from gearlog.errors import StorageError
from gearlog.storage import lines, open_store
from gearlog.storage.journal import JournalDB, JournalStorage
from gearlog.storage.opening import apply

NOW = datetime(2024, 5, 31, tzinfo=UTC)


def journal_db() -> tuple[JournalDB, JournalStorage, list[bytes]]:
    written: list[bytes] = []
    log = JournalStorage(written.append, lambda: NOW)
    return JournalDB(storage=lambda: log), log, written


ROWS = st.fixed_dictionaries({"k": st.integers(0, 3), "v": st.one_of(st.integers(), st.text(max_size=3), st.none())})
ACTS = st.lists(
    st.tuples(
        st.sampled_from(["insert", "many", "update", "call", "upsert", "remove", "truncate", "drop"]),
        st.lists(ROWS, min_size=1, max_size=3),
        st.sampled_from(["_default", "other"]),
    ),
    max_size=12,
)


def rename(row: Any) -> None:
    row["v"] = "called"
    row.pop("w", None)


WORK: dict[str, Callable[[Table, list[dict[str, Any]], Any], object]] = {
    "insert": lambda table, rows, _: table.insert(rows[0]),
    "many": lambda table, rows, _: table.insert_multiple(rows),
    "update": lambda table, rows, same: table.update({"w": [rows[0]["v"]]}, same),
    "call": lambda table, _, same: table.update(rename, same),
    "upsert": lambda table, rows, same: table.upsert(rows[0], same),
    "remove": lambda table, _, same: table.remove(same),
}


def act_on(db: TinyDB, verb: str, rows: list[dict[str, Any]], name: str) -> object:
    if verb == "drop":
        db.drop_table(name)
    elif verb == "truncate":
        db.table(name).truncate()
    else:
        return WORK[verb](db.table(name), rows, where("k") == rows[0]["k"])
    return None


@settings(deadline=None, max_examples=100)
@given(acts=ACTS)
def test_random_work_leaves_the_same_rows_as_tinydb_itself_and_the_lines_replay_to_them(acts: list[Any]) -> None:
    ours, log, written = journal_db()
    theirs = TinyDB(storage=MemoryStorage)
    for verb, rows, name in acts:
        assert act_on(ours, verb, rows, name) == act_on(theirs, verb, rows, name)
        for table in ("_default", "other"):
            assert sorted_rows(ours, table) == sorted_rows(theirs, table)
            assert ours.table(table).search(where("k") == 1) == theirs.table(table).search(where("k") == 1)
            assert len(ours.table(table)) == len(theirs.table(table))
    replayed: lines.Tables = {}
    for line in lines.read(b"".join(written)).lines:
        apply(line, replayed)
    assert {name: rows for name, rows in replayed.items() if rows} == {
        name: rows for name, rows in log.tables.items() if rows
    }


def sorted_rows(db: TinyDB, name: str) -> list[tuple[int, dict[str, Any]]]:
    return sorted((row.doc_id, dict(row)) for row in db.table(name).all())


def test_one_save_over_several_tables_is_one_line() -> None:
    db, log, written = journal_db()
    with log.one_save("both"):
        db.table("one").insert({"a": 1})
        db.table("two").insert_multiple([{"b": 2}, {"b": 3}])
        assert len(db.table("two")) == 2, "what is gathered is seen inside"
    assert len(written) == 1
    assert {name: len(rows) for name, rows in log.tables.items()} == {"one": 1, "two": 2}


def test_an_error_inside_a_save_leaves_nothing_of_it() -> None:
    db, log, written = journal_db()
    with pytest.raises(StorageError), log.one_save("broken"):
        db.table("one").insert_multiple([{"a": 1}, {"a": float("nan")}])
    assert (written, log.tables, len(db.table("one"))) == ([], {}, 0)


def test_an_update_that_fails_half_way_changes_no_row() -> None:
    db, log, _ = journal_db()
    db.insert_multiple([{"v": [1]}, {"v": []}])

    def take(row: Any) -> None:
        row["v"].pop()

    with pytest.raises(IndexError):
        db.update(take)
    assert [row["v"] for row in db.all()] == [[1], []]
    assert log.n == 1


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf"), "\ud800", {"deep": [float("nan")]}])
def test_what_json_cannot_hold_is_refused_and_changes_nothing(value: object) -> None:
    db, log, written = journal_db()
    with pytest.raises(StorageError, match="cannot be saved"):
        db.insert({"v": value})
    assert (written, log.tables) == ([], {})


def test_a_record_with_half_a_character_is_refused_in_words() -> None:
    from gearlog.storage import memory_store

    store = memory_store()
    broken = Item(id="1", created_at=NOW, changed_at=NOW, tag="a", category=Category.OTHER, name="\udcff")
    with pytest.raises(StorageError, match="piece of gear cannot be saved"):
        store.save(broken, label="Add")
    assert store.records(Item) == ()


def test_the_snapshot_is_a_file_that_plain_tinydb_reads(folder: Path) -> None:
    with open_store(folder) as store:
        for number in range(3):
            gear = Item(
                id=str(number),
                created_at=NOW,
                changed_at=NOW,
                tag=f"t{number}",
                category=Category.OTHER,
                name="[/]\n\u202e",
            )
            store.save(gear, label="Add")
    with TinyDB(folder / "log.json", storage=JSONStorage, access_mode="r") as db:
        assert [row["tag"] for row in db.table("items").all()] == ["t0", "t1", "t2"]
        assert db.table("items").get(where("tag") == "t1")["name"] == "[/]\n\u202e"
        assert db.table("about").all()[0]["program"] == "gearlog"


def test_the_private_calls_of_tinydb_that_we_use_are_as_they_were() -> None:
    """Fails when a new TinyDB changes them; then read journal.py again before allowing that version."""
    assert list(inspect.signature(Table._update_table).parameters) == ["self", "updater"]
    assert list(inspect.signature(Table._read_table).parameters) == ["self"]
    assert list(inspect.signature(Table._get_next_id).parameters) == ["self"]
    assert list(inspect.signature(Table.__init__).parameters) == [
        "self",
        "storage",
        "name",
        "cache_size",
        "persist_empty",
    ]
    assert {name for name, _ in inspect.getmembers(Storage, inspect.isfunction)} == {"read", "write", "close"}

    seen: list[dict[int, Any]] = []

    class Watching(Table):
        def _update_table(self, updater: Any) -> None:
            seen.append({})
            updater(seen[-1])

    table = Watching(MemoryStorage(), "t")  # type: ignore[no-untyped-call]
    table.insert({"a": 1})
    table.insert_multiple([{"a": 2}, {"a": 3}])
    assert seen == [{1: {"a": 1}}, {2: {"a": 2}, 3: {"a": 3}}], "one call a change, rows set by whole number"
