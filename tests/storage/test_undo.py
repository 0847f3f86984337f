"""Undo and redo, and the whole store against a plain list of states."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gearlog.domain.item import Item
from gearlog.domain.vocabulary import Category
from gearlog.storage import Store, disk, history, lines, memory_store, open_store

MakeItem = Callable[..., Item]
NOW = datetime(2024, 5, 31, tzinfo=UTC)


def names(store: Store) -> dict[str, str]:
    return {item.tag: item.name for item in store.records(Item)}


@pytest.fixture(params=["memory", "disk"])
def store(request: pytest.FixtureRequest, folder: Path) -> Store:
    return memory_store() if request.param == "memory" else open_store(folder)


def test_undo_takes_back_the_last_save_whole_and_tells_its_label(store: Store, make_item: MakeItem) -> None:
    store.save(make_item(1), label="Add 1")
    store.save(make_item(1, "renamed"), make_item(2), label="Rename 1, add 2")
    assert store.last_change() == "Rename 1, add 2"
    assert store.undo() == "Rename 1, add 2"
    assert names(store) == {"tag-1": "line"}
    assert store.get(Item, make_item(2).id) is None
    assert store.last_change() == "Add 1"
    assert store.undo() == "Add 1"
    assert (store.undo(), store.last_change(), names(store)) == (None, None, {})


def test_redo_does_again_what_was_undone_until_something_new_is_saved(store: Store, make_item: MakeItem) -> None:
    for number in (1, 2, 3):
        store.save(make_item(number), label=f"Add {number}")
    assert [store.undo(), store.undo()] == ["Add 3", "Add 2"]
    assert store.redo() == "Add 2"
    assert set(names(store)) == {"tag-1", "tag-2"}
    store.save(make_item(4), label="Add 4")
    assert store.redo() is None
    assert [store.undo() for _ in range(4)] == ["Add 4", "Add 2", "Add 1", None]


def test_every_change_moves_the_version_on(store: Store, make_item: MakeItem) -> None:
    seen = [store.version]
    for act in (lambda: store.save(make_item(1), label="x"), store.undo, store.redo):
        act()
        seen.append(store.version)
    assert seen == sorted(set(seen))


def test_a_renamed_record_keeps_its_place_in_the_order(store: Store, make_item: MakeItem) -> None:
    for number in (3, 1, 2):
        store.save(make_item(number), label="Add")
    store.save(make_item(3, "renamed"), label="Rename")
    assert list(names(store)) == ["tag-3", "tag-1", "tag-2"]


def test_undo_reaches_over_restarts_and_folds(folder: Path, make_item: MakeItem) -> None:
    for number in range(4):
        with open_store(folder) as store:
            store.save(make_item(number), label=f"Add {number}")
    with open_store(folder) as store:
        assert [store.undo(), store.undo()] == ["Add 3", "Add 2"]
    with open_store(folder) as store:
        assert store.redo() == "Add 2"
        assert [store.undo() for _ in range(4)] == ["Add 2", "Add 1", "Add 0", None]


def test_undo_stops_where_the_history_is_damaged_and_never_puts_back_a_wrong_state(
    folder: Path, make_item: MakeItem
) -> None:
    for name in ("first", "second", "third"):
        with open_store(folder) as store:
            store.save(make_item(1, name), label=f"Call it {name}")
    for path in (folder / "history").iterdir():
        path.write_bytes(path.read_bytes().replace(b"Call it second", b"Call it sEcond"))
    with open_store(folder) as store:
        assert store.undo() == "Call it third"
        assert (store.last_change(), store.undo()) == (None, None)
        assert names(store) == {"tag-1": "second"}


def test_a_journal_that_stands_twice_after_a_fold_cut_short_counts_once(folder: Path, make_item: MakeItem) -> None:
    with open_store(folder) as store:
        for number in range(3):
            store.save(make_item(number), label=f"Add {number}")
        current = lines.read((folder / "log.journal").read_bytes()).lines
        history.keep_journal(folder / "log.journal", folder / "history", 1)
    assert [line.n for line in history.backwards(current, folder / "history")] == [3, 2, 1]
    assert history.since(1, current, folder / "history") == current[1:]
    assert history.since(0, current[1:2], folder / "history") == current[:2]
    assert history.since(0, [current[0], current[2]], folder / "nowhere") is None


KEYS = st.integers(0, 4)
NAMES = st.text(max_size=8)
SAVES = st.tuples(st.just("save"), st.dictionaries(KEYS, NAMES, min_size=1, max_size=3))
OTHERS = st.tuples(st.sampled_from(["undo", "redo", "reopen", "crash"]), st.just(dict[int, str]()))
ACTS = st.lists(st.one_of(SAVES, SAVES, OTHERS), max_size=25)
Act = tuple[str, dict[int, str]]


class Model:
    """States one after another, and where we stand in them."""

    def __init__(self) -> None:
        self.states: list[dict[str, str]] = [{}]
        self.at = 0

    def save(self, named: dict[int, str]) -> None:
        state = self.states[self.at] | {f"tag-{key}": name for key, name in named.items()}
        if state != self.states[self.at]:
            self.states[self.at + 1 :] = [state]
            self.at += 1

    def undo(self) -> bool:
        self.at -= (possible := self.at > 0)
        return possible

    def redo(self) -> bool:
        self.at += (possible := self.at < len(self.states) - 1)
        return possible


def item(key: int, name: str) -> Item:
    return Item(
        id=f"{key:016x}", created_at=NOW, changed_at=NOW, tag=f"tag-{key}", category=Category.RING_OR_SWIVEL, name=name
    )


def act_on(store: Store, model: Model, act: Act, folder: Path) -> Store:
    """Do one act on both; 'crash' leaves the log as a killed program would."""
    verb, named = act
    if verb == "save":
        store.save(*[item(key, name) for key, name in named.items()], label="save")
        model.save(named)
    elif verb == "undo":
        assert (store.undo() is not None) == model.undo()
    elif verb == "redo":
        assert (store.redo() is not None) == model.redo()
    elif verb == "reopen":
        store.close()
    else:
        crash(store)
    return store if verb in ("save", "undo", "redo") else open_store(folder)


def crash(store: Store) -> None:
    lock = store._session.lock
    writer = store._session.disk
    assert lock is not None
    assert isinstance(writer, disk.WriterDisk)
    writer.close()
    lock.release()


@settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(acts=ACTS, fold_at=st.sampled_from([1_500, 1_000_000]))
def test_any_run_of_saves_undo_redo_closings_and_crashes_is_what_a_plain_list_of_states_says(
    acts: list[Act], fold_at: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(disk, "FOLD_AT", fold_at)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        store, model = open_store(folder), Model()
        for act in acts:
            store = act_on(store, model, act, folder)
            assert names(store) == model.states[model.at]
            assert store.notices == ()
            with open_store(folder, read_only=True) as reader:
                assert names(reader) == model.states[model.at]
        store.close()
