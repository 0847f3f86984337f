"""The work goes on at the step where the power went, whatever was pressed last."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from math import ceil
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the splicers are forked")
def test_killed_after_every_press_the_bench_resumes_at_the_same_step(tmp_path: Path) -> None:
    words = [sys.executable, "-m", "tests.services.killed_bench", str(tmp_path / "log")]
    done = subprocess.run(words, capture_output=True, text=True, check=True, timeout=120, cwd=ROOT)

    report = json.loads(done.stdout)

    assert report["lost"] == []
    assert report["kills"] == 7 * report["steps"] > 50
    assert report["seconds"] > 0
    assert report["minutes"] == ceil(report["seconds"] / 60)
    assert [line.split(":")[0] for line in report["notes"].splitlines()] == [
        f"step {number + 1}" for number in range(report["steps"])
    ]
    assert report["notices"] == []
