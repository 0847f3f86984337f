"""A disk that fails at any call of a cut, an import, a press or a closing: all of it is there, or nothing."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from gearlog.domain.bench import BenchStand
from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.errors import ReadOnlyError, StorageError
from gearlog.services.book import Book
from gearlog.storage import disk
from tests.faults.conftest import opened
from tests.storage.test_full_disk import FailingDisk

MOST_STEPS = 60
LIST = b"Tag,Name,Category\nfrom-list-1,one,connector\nfrom-list-2,two,connector\n"


def cut(book: Book) -> None:
    form = book.gear.form_for_piece(book.gear.by_tag("rope").id)
    book.gear.add(form | {"name": "piece", "length_bought": "2 m", "parent_end": "B"})


def take_in(book: Book) -> None:
    book.importing.take_in(LIST, "list.csv")


def press(book: Book) -> None:
    view = book.bench.open_views()[0]
    book.bench.enter(view.id)
    book.bench.done(view.id)


def close(book: Book) -> None:
    book.gear.add({"name": "before closing", "category": "connector"})
    book.close()


def state(book: Book) -> tuple[int, int, int]:
    """How many items and entries there are, and the step at the bench."""
    store = book._store
    return len(store.records(Item)), len(store.records(Event)), max(one.step for one in store.records(BenchStand))


@pytest.mark.parametrize("for_ever", [False, True])
@pytest.mark.parametrize("fold_at", [1, disk.FOLD_AT])
@pytest.mark.parametrize("act", [cut, take_in, press, close])
def test_whatever_call_of_the_disk_fails_an_act_is_done_or_it_is_not(
    folder: Path, act: Callable[[Book], None], fold_at: int, monkeypatch: pytest.MonkeyPatch, *, for_ever: bool
) -> None:
    monkeypatch.setattr(disk, "FOLD_AT", fold_at)
    with opened(folder) as book:
        before = state(book)
    copy = folder.with_name("whole")
    shutil.copytree(folder, copy)
    with opened(copy) as book:
        act(book)
        after = state(book)
    for step in range(1, MOST_STEPS):
        harmed = folder.with_name(f"harmed-{step}")
        shutil.copytree(folder, harmed)
        if act_on(harmed, act, step, before, after, for_ever=for_ever):
            return
    pytest.fail("the act has more steps than were tried")


def act_on(
    folder: Path, act: Callable[[Book], None], step: int, before: object, after: object, *, for_ever: bool
) -> bool:
    """Do it with the disk failing at ``step``; whether it was through before that."""
    refused = False
    book = opened(folder)
    failing = FailingDisk(step, for_ever=for_ever)
    with failing.installed():
        try:
            act(book)
        except (StorageError, ReadOnlyError) as error:
            refused = True
            assert "saved" in error.message
        if act is not press:  # a press is two saves: coming to the bench, and the step
            assert state(book) == (before if refused else after)
        book.close()
    with opened(folder) as again:
        found = state(again)
        assert found in (before, after)
        assert refused or found == after
        assert for_ever or not refused or found == before
        assert not any("damaged" in notice for notice in again.notices)
        assert not again.read_only
    return failing.count < step
