"""Two programs at one log: one writes, the other reads and follows."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from gearlog.domain.item import Item
from gearlog.errors import ReadOnlyError, StorageError
from gearlog.storage import Store, disk, open_store

MakeItem = Callable[..., Item]
WRITER = """
import sys
from pathlib import Path
from gearlog.storage import open_store
store = open_store(Path(sys.argv[1]))
print("reads" if store.read_only else "writes", flush=True)
sys.stdin.readline()
"""


def names(store: Store) -> dict[str, str]:
    return {item.tag: item.name for item in store.records(Item)}


@contextmanager
def other_program(folder: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    words = [sys.executable, "-c", WRITER, str(folder)]
    with subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout is not None
        try:
            yield other, other.stdout.readline().strip()
        finally:
            other.kill()


def test_the_second_program_reads_and_says_which_one_writes(folder: Path, make_item: MakeItem) -> None:
    with other_program(folder) as (other, role):
        assert role == "writes"
        with open_store(folder) as store:
            assert store.read_only
            assert f"process {other.pid}" in store.notices[0]
            with pytest.raises(ReadOnlyError, match="nothing was saved"):
                store.save(make_item(1), label="Add")
            with pytest.raises(ReadOnlyError):
                store.undo()
            assert names(store) == {}


def test_the_lock_of_a_killed_program_is_free(folder: Path, make_item: MakeItem) -> None:
    with other_program(folder) as (other, _):
        other.kill()
        other.wait()
        with open_store(folder) as store:
            assert not store.read_only
            store.save(make_item(1), label="Add")


def test_a_closed_log_can_be_written_by_the_next(folder: Path) -> None:
    open_store(folder).close()
    with other_program(folder) as (_, role):
        assert role == "writes"


def test_a_reader_follows_saves_undo_and_folds(
    folder: Path, make_item: MakeItem, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(disk, "FOLD_AT", 2_000)
    with open_store(folder) as writer, open_store(folder) as reader:
        assert not reader.refresh()
        for number in range(12):
            writer.save(make_item(number % 5, f"state {number}"), label="x")
            seen = reader.version
            assert reader.refresh()
            assert reader.version > seen
            assert names(reader) == names(writer)
            assert not reader.refresh()
        writer.undo()
        assert reader.refresh()
        assert names(reader) == names(writer)
        assert reader.last_change() == writer.last_change()
        assert not writer.refresh()


def test_a_line_in_the_middle_of_writing_is_not_shown_to_a_reader(folder: Path, make_item: MakeItem) -> None:
    with open_store(folder) as writer:
        writer.save(make_item(1), label="x")
        with open_store(folder) as reader:
            before = (folder / "log.journal").read_bytes()
            writer.save(make_item(2), label="x")
            whole = (folder / "log.journal").read_bytes()
            (folder / "log.journal").write_bytes(whole[: len(before) + 20])
            reader.refresh()
            assert set(names(reader)) == {"tag-1"}
            (folder / "log.journal").write_bytes(whole)
            assert reader.refresh()
            assert set(names(reader)) == {"tag-1", "tag-2"}


def test_a_folder_that_cannot_be_written_opens_read_only(
    folder: Path, make_item: MakeItem, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_store(folder) as store:
        store.save(make_item(1), label="Add")
    real = os.open

    def read_only_medium(path: str, flags: int, *args: int, **kwargs: int) -> int:
        if flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT):
            raise OSError(errno.EROFS, "Read-only file system")
        return real(path, flags, *args, **kwargs)

    monkeypatch.setattr(os, "open", read_only_medium)
    with open_store(folder) as store:
        assert store.read_only
        assert "Read-only file system" in store.notices[0]
        assert names(store) == {"tag-1": "line"}
        store.save_settings(store.settings)


def test_a_log_that_is_not_there_can_be_looked_at_without_making_it(folder: Path) -> None:
    with open_store(folder, read_only=True) as store:
        assert names(store) == {}
    assert not folder.exists()


def test_a_journal_in_whose_place_another_was_put_takes_no_save(folder: Path, make_item: MakeItem) -> None:
    with open_store(folder) as store:
        store.save(make_item(1), label="Add")
        other = folder.with_name("other")
        other.write_bytes((folder / "log.journal").read_bytes())
        other.replace(folder / "log.journal")
        with pytest.raises(StorageError, match="not saved"):
            store.save(make_item(2), label="Add 2")
        assert names(store) == {"tag-1": "line"}
        assert store.read_only
    with open_store(folder) as store:
        assert names(store) == {"tag-1": "line"}
