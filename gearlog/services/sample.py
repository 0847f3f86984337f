"""The sample: a throw-away copy of the demo log, with its dates moved to today."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Callable
from datetime import date
from pathlib import Path

import msgspec

import gearlog
from gearlog.errors import StorageError
from gearlog.services.moving import moved
from gearlog.storage.copying import copy_log

ANCHOR_FILE = "demo.json"
"""Beside the demo log: the day as of which it stands, ``{"date": "2026-11-01"}``."""
PREFIX = "gearlog-sample-"


class Copy(msgspec.Struct, frozen=True):
    """A temporary log.

    Attributes:
        folder: where it is.
        remove: removes it.
    """

    folder: Path
    remove: Callable[[], None]


def copy_demo(today: date) -> Copy:
    """Copy the demo log with its dates moved to ``today``; raises StorageError when it is not there."""
    demo = demo_folder()
    days = (today - _anchor(demo)).days
    holder = tempfile.TemporaryDirectory(prefix=PREFIX)
    folder = Path(holder.name)
    try:
        copy_log(demo, folder, lambda row: moved(row, days))
    except BaseException:
        holder.cleanup()
        raise
    return Copy(folder, holder.cleanup)


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
