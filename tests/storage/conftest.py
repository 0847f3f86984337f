"""A log to damage: its folder, its clock, and gear to put into it."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from gearlog.domain.item import Item
from gearlog.domain.vocabulary import Category

START = datetime(2024, 5, 31, 8, 0, tzinfo=UTC)

MakeItem = Callable[..., Item]


@pytest.fixture(autouse=True)
def quick_flush(monkeypatch: pytest.MonkeyPatch) -> None:
    """Flushing is left out: only a power cut could tell, and a busy disk would make the tests slow."""
    for name in ("fsync", "fdatasync"):
        monkeypatch.setattr(os, name, lambda descriptor: None)


@pytest.fixture
def make_item() -> MakeItem:
    def make(number: int, name: str = "line", notes: str = "") -> Item:
        return Item(
            id=f"{number:016x}",
            created_at=START,
            changed_at=START,
            tag=f"tag-{number}",
            category=Category.LANYARD,
            name=name,
            notes=notes,
        )

    return make


@pytest.fixture
def clock() -> Callable[[], datetime]:
    """A clock that moves on by a minute with each look."""
    moment = START

    def now() -> datetime:
        nonlocal moment
        moment += timedelta(minutes=1)
        return moment

    return now


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "log"
