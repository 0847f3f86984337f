"""A log with a rope, some history and a splice at the bench, to be harmed."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

import pytest

from gearlog.services.book import Book, open_book
from tests.making import made_form
from tests.services.conftest import EYE, HOLLOW, TODAY


@pytest.fixture(autouse=True)
def quick_flush(monkeypatch: pytest.MonkeyPatch) -> None:
    """Flushing is left out: only a power cut could tell, and a busy disk would make the tests slow."""
    for name in ("fsync", "fdatasync"):
        monkeypatch.setattr(os, name, lambda descriptor: None)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return make_log(tmp_path / "log")


def opened(folder: Path) -> Book:
    return open_book(folder, today=lambda: TODAY)


def make_log(folder: Path) -> Path:
    with opened(folder) as book:
        rope = book.gear.add(HOLLOW | {"tag": "rope"})
        plan = book.planner.plan(book.planner.form_for(rope.id, "A") | EYE)
        book.diary.record({**made_form(book, plan), "end": "A", "made_on": "2025-05-01"}, plan)
    with opened(folder) as book:
        rope = book.gear.by_tag("rope")
        book.gear.record_event(rope.id, book.gear.blank_event() | {"kind": "washed"})
        book.bench.start(book.planner.plan(book.planner.form_for(rope.id, "B") | EYE))
    return folder


def files_of(folder: Path) -> Mapping[str, tuple[int, bytes]]:
    """Every file under the folder, with its moment of change and its bytes."""
    return {
        str(path.relative_to(folder)): (path.stat().st_mtime_ns, path.read_bytes())
        for path in folder.rglob("*")
        if path.is_file()
    }
