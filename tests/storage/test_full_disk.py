"""A disk that fails at any step: the error is told, nothing acknowledged is lost, nothing else shown as saved."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from gearlog.domain.item import Item
from gearlog.errors import ReadOnlyError, StorageError
from gearlog.storage import Store, disk, open_store

MakeItem = Callable[..., Item]
STEPS = ("write", "fdatasync", "fsync", "ftruncate", "replace", "link", "open")
MOST_STEPS = 200


class FailingDisk:
    """Counts the system's calls, and fails the ``at``-th: once, or from then on."""

    def __init__(self, at: int, *, for_ever: bool) -> None:
        self.at = at
        self.for_ever = for_ever
        self.count = 0

    def due(self) -> bool:
        self.count += 1
        return self.count == self.at or (self.for_ever and self.count > self.at)

    @contextmanager
    def installed(self) -> Iterator[None]:
        with pytest.MonkeyPatch.context() as patch:
            for name in STEPS:
                patch.setattr(os, name, self.failing(name, getattr(os, name)))
            yield

    def failing(self, name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **kwargs: Any) -> Any:
            if name == "open" and not args[1] & os.O_CREAT:
                return real(*args, **kwargs)
            if self.due():
                if name == "write":  # a full disk takes a part and refuses the rest
                    real(args[0], bytes(args[1])[: len(args[1]) // 2])
                raise OSError(errno.ENOSPC, "No space left on device")
            return real(*args, **kwargs)

        return call


def names(store: Store) -> dict[str, str]:
    return {item.tag: item.name for item in store.records(Item)}


class Session:
    """A few saves on a failing disk, and a plain account of what was acknowledged."""

    def __init__(self, folder: Path, make_item: MakeItem) -> None:
        self.folder = folder
        self.make_item = make_item
        self.saved: dict[str, str] = {}
        self.in_flight: list[dict[str, str]] = []
        self.failures = 0

    def run(self) -> None:
        try:
            store = open_store(self.folder)
        except StorageError:
            self.failures += 1
            return
        for round_ in range(2):
            wanted = {f"tag-{number}": f"round {round_}" for number in (round_, round_ + 1)}
            items = [self.make_item(number, f"round {round_}") for number in (round_, round_ + 1)]
            self.attempt(store, lambda items=items: store.save(*items, label="x"), self.saved | wanted)  # type: ignore[misc]
        before = dict(self.saved)
        self.attempt(store, lambda: store.save(self.make_item(9), label="y"), self.saved | {"tag-9": "line"})
        if self.saved != before:
            self.attempt(store, store.undo, before)
        store.close()

    def attempt(self, store: Store, act: Callable[[], object], wanted: dict[str, str]) -> None:
        try:
            act()
        except (StorageError, ReadOnlyError) as error:
            self.failures += 1
            self.in_flight.append(wanted)
            assert "saved" in error.message
        else:
            self.saved = wanted
        assert names(store) == self.saved


@pytest.mark.parametrize("for_ever", [False, True])
@pytest.mark.parametrize("fold_at", [1, disk.FOLD_AT])
def test_a_disk_that_fails_at_any_step_loses_nothing_acknowledged(
    tmp_path: Path, make_item: MakeItem, monkeypatch: pytest.MonkeyPatch, fold_at: int, *, for_ever: bool
) -> None:
    monkeypatch.setattr(disk, "FOLD_AT", fold_at)
    for step in range(1, MOST_STEPS):
        failing = FailingDisk(step, for_ever=for_ever)
        session = Session(tmp_path / str(step), make_item)
        with failing.installed():
            session.run()
        with open_store(session.folder) as store:
            found = names(store)
            assert found == session.saved or (for_ever and found in session.in_flight), step
            assert not any("damaged" in notice for notice in store.notices), step
        if failing.count < step:
            assert step > len(STEPS)
            return
    pytest.fail("the session has more steps than were tried")


def test_after_room_was_made_saving_goes_on(folder: Path, make_item: MakeItem) -> None:
    with open_store(folder) as store:
        store.save(make_item(1), label="Add 1")
        with FailingDisk(1, for_ever=False).installed(), pytest.raises(StorageError, match="No space left"):
            store.save(make_item(2), label="Add 2")
        assert not store.read_only
        store.save(make_item(3), label="Add 3")
        assert store.last_change() == "Add 3"
    with open_store(folder) as store:
        assert set(names(store)) == {"tag-1", "tag-3"}


def test_when_not_even_the_rest_can_be_cut_off_saving_stops_and_says_so(folder: Path, make_item: MakeItem) -> None:
    with open_store(folder) as store:
        store.save(make_item(1), label="Add 1")
        with FailingDisk(1, for_ever=True).installed(), pytest.raises(StorageError):
            store.save(make_item(2), label="Add 2")
        assert store.read_only
        assert set(names(store)) == {"tag-1"}
        with pytest.raises(ReadOnlyError, match="disk failed"):
            store.save(make_item(3), label="Add 3")


def test_a_flush_that_fails_is_not_taken_for_a_save(
    folder: Path, make_item: MakeItem, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The bytes may stand in the file all the same; they are cut off, not believed."""
    with open_store(folder) as store:
        store.save(make_item(1), label="Add 1")
        before = (folder / "log.journal").read_bytes()
        with monkeypatch.context() as patch:
            patch.setattr(os, "fdatasync", refuse)
            with pytest.raises(StorageError, match="Input/output error"):
                store.save(make_item(2), label="Add 2")
        assert (folder / "log.journal").read_bytes() == before
        assert set(names(store)) == {"tag-1"}


def test_an_interruption_in_the_middle_of_writing_leaves_neither_file_nor_memory_changed(
    folder: Path, make_item: MakeItem, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_store(folder) as store:
        store.save(make_item(1), label="Add 1")
        with monkeypatch.context() as patch:
            patch.setattr(os, "fdatasync", interrupt)
            with pytest.raises(KeyboardInterrupt):
                store.save(make_item(2), label="Add 2")
        assert set(names(store)) == {"tag-1"}
        store.save(make_item(3), label="Add 3")
    with open_store(folder) as store:
        assert set(names(store)) == {"tag-1", "tag-3"}


def interrupt(descriptor: int) -> None:
    raise KeyboardInterrupt


def refuse(descriptor: int) -> None:
    raise OSError(errno.EIO, "Input/output error")


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="the system does not tell the names of open files")
def test_a_save_is_written_and_flushed_before_it_returns_and_a_fold_in_the_safe_order(
    folder: Path, make_item: MakeItem, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Kills cannot show this, for the system keeps what a killed program wrote; a power cut does not."""
    with open_store(folder) as store:
        store.save(make_item(0), label="Add")
    store = open_store(folder)
    calls: list[str] = []
    for name in ("write", "fdatasync", "fsync", "replace"):
        monkeypatch.setattr(os, name, recording(name, getattr(os, name), calls))
    store.save(make_item(1), label="Add")
    assert calls == ["write log.journal", "fdatasync log.journal"]

    calls.clear()
    store.close()
    backup, mark, snapshot, journal = (calls[start:stop] for start, stop in ((0, 4), (4, 6), (6, 10), (10, 14)))
    assert mark == ["write log.journal", "fdatasync log.journal"]
    for part, end in ((backup, "backups"), (snapshot, "log"), (journal, "log")):
        assert [call.split()[0] for call in part] == ["write", "fsync", "replace", "fsync"]
        assert part[-1] == f"fsync {end}"
    assert (snapshot[2], journal[2]) == ("replace log.json", "replace log.journal")


def recording(name: str, real: Callable[..., Any], calls: list[str]) -> Callable[..., Any]:
    def call(*args: Any, **kwargs: Any) -> Any:
        target = args[1] if name == "replace" else Path(f"/proc/self/fd/{args[0]}").readlink()
        calls.append(f"{name} {Path(target).name}")
        return real(*args, **kwargs)

    return call
