"""Rows stay text until they are looked at, and text that nobody changed goes back into the file as it was."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest

from gearlog.domain import record
from gearlog.domain.item import Item
from gearlog.storage import codec, lines, open_store

MakeItem = Callable[..., Item]


@pytest.fixture
def log(folder: Path, make_item: MakeItem) -> Path:
    with open_store(folder) as store:
        for number in range(3):
            store.save(make_item(number), label=f"Add {number}")
    return folder


def rewritten(folder: Path, change: Callable[[dict[str, Any]], object], **style: Any) -> None:
    """The log as another program would have written it: sound, and in its own way."""
    tables = json.loads((folder / "log.json").read_bytes())
    change(tables)
    data = json.dumps(tables, **style).encode()
    (folder / "log.json").write_bytes(data)
    heading = lines.Line(n=tables["about"]["1"]["n"], snapshot=lines.checksum(data), format=2)
    (folder / "log.journal").write_bytes(lines.encode(heading))


def test_one_record_is_read_alone(log: Path, make_item: MakeItem, monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[object] = []

    def from_text(kind: type[Item], text: bytes | msgspec.Raw) -> Item:
        read.append(text)
        return record.from_text(kind, text)

    monkeypatch.setattr(codec, "from_text", from_text)
    with open_store(log, read_only=True) as store:
        assert read == []
        assert store.get(Item, make_item(1).id) == make_item(1)
        assert len(read) == 1
        assert len(store.records(Item)) == 3
        assert store.get(Item, make_item(1).id) is store.records(Item)[1]


def test_a_row_that_nobody_changed_is_folded_as_it_was_written(log: Path, make_item: MakeItem) -> None:
    rewritten(log, lambda tables: tables["items"]["1"].update({"later": [1, {"a": None}]}), ensure_ascii=True)
    with open_store(log) as store:
        assert store.notices == ()
        store.save(make_item(9), label="Add 9")
    assert json.loads((log / "log.json").read_bytes())["items"]["1"]["later"] == [1, {"a": None}]
    assert b'"later": [1, {"a": null}]' in (log / "log.json").read_bytes(), "as the other program spaced it"


def test_what_is_written_in_another_way_is_no_change_and_can_be_taken_back(log: Path, make_item: MakeItem) -> None:
    with open_store(log) as store:
        store.save(make_item(1, "renamed"), label="Rename")
    rewritten(log, lambda tables: None, indent=1)
    with open_store(log) as store:
        before = store.version
        store.save(make_item(1, "renamed"), label="Nothing")
        assert store.version == before
        assert store.undo() == "Rename"
        assert store.get(Item, make_item(1).id) == make_item(1)


def test_a_row_that_is_no_row_is_told_and_stays_in_the_file(log: Path) -> None:
    rewritten(log, lambda tables: tables["items"].update({"2": [1], "3": {"id": 7}}))
    with open_store(log) as store:
        assert [item.tag for item in store.records(Item)] == ["tag-0"]
        assert store.notices[0].startswith("2 x piece of gear in the log cannot be read")
    assert json.loads((log / "log.json").read_bytes())["items"]["2"] == [1]


@pytest.mark.parametrize("row", [b'{"id": "\xff"}', b'{"id": "\\ud800"}', b"[1]"])
def test_a_snapshot_that_nothing_vouches_for_is_read_to_the_end_of_every_row(log: Path, row: bytes) -> None:
    path = log / "log.json"
    first, _, rest = path.read_bytes().partition(b'"2": {')
    path.write_bytes(first + b'"2": ' + row + b",\n" + b'"4": {' + rest)
    (log / "log.journal").unlink()
    with open_store(log) as store:
        assert [item.tag for item in store.records(Item)][:1] == ["tag-0"]
        assert any("damaged" in notice for notice in store.notices)
