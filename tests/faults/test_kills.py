"""A user killed at any moment of saving, cutting, importing, pressing or closing has all that was told to be done."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

KILLS = 1_000
ROOT = Path(__file__).parents[2]


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
