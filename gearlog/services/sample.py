"""The sample: a throw-away copy of the demo log, with its dates moved to today."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import gearlog
from gearlog.errors import StorageError
from gearlog.services.clock import Clock
from gearlog.services.moving import moved
from gearlog.storage import Store
from gearlog.storage.copying import memory_copy

ANCHOR_FILE = "demo.json"
"""Beside the demo log: the day as of which it stands, ``{"date": "2026-11-01"}``."""


def sample_store(clock: Clock) -> Store:
    """The demo log in memory with its dates moved to today; raises StorageError when it is not there."""
    demo = demo_folder()
    days = (clock.today() - _anchor(demo)).days
    return memory_copy(demo, lambda row: moved(row, days), now=clock.now)


def demo_folder() -> Path:
    """Where the demo log lies: in the installed package, else in the working tree."""
    package = Path(gearlog.__file__).parent
    for folder in (package / "_demo", package.parent / "sample_data" / "demo"):
        if (folder / ANCHOR_FILE).is_file():
            return folder
    raise StorageError("the demo log is not part of this installation; install gearlog again")


def _anchor(demo: Path) -> date:
    try:
        return date.fromisoformat(json.loads((demo / ANCHOR_FILE).read_text(encoding="utf-8"))["date"])
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise StorageError("the demo log does not say its date; install gearlog again") from error
