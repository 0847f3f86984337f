"""A writer killed at any moment loses nothing that it had acknowledged."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

KILLS = 200
WRITER = Path(__file__).with_name("killed_writer.py")


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the writers are forked")
def test_two_hundred_kills_lose_no_acknowledged_save(tmp_path: Path) -> None:
    words = [sys.executable, str(WRITER), str(tmp_path / "log"), str(KILLS), "7"]
    done = subprocess.run(words, capture_output=True, text=True, check=True, timeout=120)

    report = json.loads(done.stdout)

    assert report["lost"] == []
    assert report["kills"] == KILLS
    assert report["saves"] > KILLS, "the writers must live long enough to save"
    assert report["aside"] == [], "a kill is not damage"
    assert all("not been written to the end" in notice for notice in report["notices"])
