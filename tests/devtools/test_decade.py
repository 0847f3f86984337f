"""Ten years for measuring: sound as a log of a user is, the same each time, and as much as was asked for."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from gearlog.devtools import decade
from gearlog.domain.inspection import Inspection
from gearlog.domain.item import Item
from gearlog.domain.record import Record
from gearlog.domain.splice import Splice
from gearlog.services.checking import faults_in
from gearlog.storage import memory_store, open_store

DAY = date(2026, 11, 1)
SMALL = decade.Amounts(items=40, splices=100, inspections=160)


def made(day: date) -> tuple[tuple[Record, ...], ...]:
    with memory_store() as store:
        decade.fill(store, day, SMALL)
        return store.records(Item), store.records(Splice), store.records(Inspection)


def test_a_small_decade_is_a_sound_log_of_just_that_size(tmp_path: Path) -> None:
    decade.build(tmp_path / "log", DAY, SMALL)
    with open_store(tmp_path / "log", read_only=True) as store:
        assert store.notices == ()
        assert list(faults_in(store)) == []
        counts = [len(store.records(kind)) for kind in (Item, Splice, Inspection)]
        assert counts == [SMALL.items, SMALL.splices, SMALL.inspections]
        assert any(one.findings for one in store.records(Inspection))
        assert all(one.plan is not None and one.plan.marks for one in store.records(Splice))


def test_the_same_day_gives_the_same_records() -> None:
    assert made(DAY) == made(DAY)
    assert made(DAY) != made(date(2025, 11, 1))
