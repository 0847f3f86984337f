"""A user killed at any moment of saving, cutting, importing, pressing or closing has all that was told to be done."""

from __future__ import annotations

import json
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import filelock  # noqa: F401 (loaded late by the lock; here once for all lives)
import pytest

from gearlog.domain.record import Record
from gearlog.storage import Store, open_store
from gearlog.storage.codec import TABLES

KILLS = 1_000
ROOT = Path(__file__).parents[2]
MIGRATIONS = 100
LONGEST_MIGRATION_S = 0.008
OLDER = ROOT / "tests" / "data" / "format-1"


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the lives are forked")
def test_a_thousand_kills_lose_nothing_and_leave_nothing_by_half(tmp_path: Path) -> None:
    words = [sys.executable, "-m", "tests.faults.killed_user", str(tmp_path), str(KILLS), "11"]
    done = subprocess.run(words, capture_output=True, text=True, check=True, timeout=200, cwd=ROOT)

    report = json.loads(done.stdout)

    assert report["lost"] == []
    assert report["half"] == []
    assert report["aside"] == [], "a kill is not damage"
    assert all("not been written to the end" in notice for notice in report["notices"])
    assert report["kills"] == KILLS
    assert set(report["done"]) == {"saved", "cut", "imported", "pressed"}
    assert min(report["done"].values()) > 100, "the lives must be long enough to do something"


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the lives are forked")
def test_a_log_killed_while_its_format_is_changed_has_every_record_and_can_be_taken_back(tmp_path: Path) -> None:
    dice = random.Random(5)  # noqa: S311 (moments of death, not secrets)
    cut_short = 0
    with open_store(OLDER, read_only=True) as store:
        whole, last = records(store), store.last_change()
    for number in range(MIGRATIONS):
        folder = tmp_path / str(number)
        shutil.copytree(OLDER, folder)
        child = os.fork()
        if child == 0:
            open_store(folder)
            os._exit(0)
        time.sleep(dice.random() * LONGEST_MIGRATION_S)
        os.kill(child, signal.SIGKILL)
        cut_short += os.WIFSIGNALED(os.waitpid(child, 0)[1])
        with open_store(folder) as store:
            assert (records(store), store.last_change()) == (whole, last)
            assert not any("damaged" in notice for notice in store.notices)
        with open_store(folder) as store:
            assert store.notices == ()
    assert cut_short > MIGRATIONS // 4, "the kills must come early enough"


def records(store: Store) -> list[tuple[Record, ...]]:
    return [store.records(kind) for kind in TABLES]
