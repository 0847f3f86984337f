"""A writer that is killed again and again, and a check of what it had acknowledged. Run as a program.

One process forks every writer, so that imports are paid once. Each writer goes on with the same log, saves
numbered states of a few records, and tells each save through a pipe once it returned. The parent kills it at a
random moment with SIGKILL and compares the log with what was told. Prints a JSON report.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import filelock  # noqa: F401 (loaded late by the lock; here once for all writers)

from gearlog.domain.item import Item
from gearlog.domain.vocabulary import Category
from gearlog.storage import Store, disk, open_store

THINGS = 7
LONGEST_LIFE_S = 0.012  # some writers die while opening, most while saving or folding
SMALL_FOLD = 12_000  # bytes of journal; folds come often, so that many are cut short
DURING_OPENING = 0.3  # share of the kills that do not wait for the first save
STARTED = datetime(2024, 5, 31, tzinfo=UTC)


def thing(number: int, state: int) -> Item:
    return Item(
        id=f"{number:016x}",
        created_at=STARTED,
        changed_at=STARTED,
        tag=f"tag-{number}",
        category=Category.SLING,
        name=str(state),
        notes="x" * (state % 400),
    )


def write(folder: Path, told: int, first: int) -> None:
    """Save until killed; two records a save now and then, undo and redo among them."""
    with open_store(folder) as store:
        state = first
        while True:
            state += 1
            number = state % THINGS
            pair = [thing(number, state), *([thing(THINGS + number, state)] if state % 3 == 0 else [])]
            store.save(*pair, label=f"state {state}")
            if state % 5 == 0:
                store.undo()
                store.redo()
            os.write(told, b"".join(b"%s %d\n" % (one.id.encode(), state) for one in pair))


def states(store: Store) -> dict[str, int]:
    return {item.id: int(item.name) for item in store.records(Item)}


def one_life(folder: Path, first: int, dice: random.Random) -> dict[str, int]:
    """Let a writer live for a moment; what it acknowledged."""
    heard, told = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(heard)
        write(folder, told, first)
    os.close(told)
    early = b"" if dice.random() < DURING_OPENING else os.read(heard, 1 << 16)
    time.sleep(dice.random() * LONGEST_LIFE_S)
    os.kill(child, signal.SIGKILL)
    text = early
    while part := os.read(heard, 1 << 16):
        text += part
    os.close(heard)
    os.waitpid(child, 0)
    pairs = [line.split() for line in text.decode().splitlines()]
    return {name: int(state) for name, state in pairs}


def run(folder: Path, kills: int, seed: int) -> dict[str, Any]:
    dice = random.Random(seed)  # noqa: S311 (moments of death, not secrets)
    disk.FOLD_AT = SMALL_FOLD
    acknowledged: dict[str, int] = {}
    lost: list[str] = []
    words: set[str] = set()
    top = 0
    for life in range(kills):
        told = one_life(folder, top, dice)
        acknowledged |= told
        with open_store(folder, read_only=True) as store:
            found = states(store)
            words.update(store.notices)
        lost += [f"life {life}: {name}" for name, state in acknowledged.items() if found.get(name, -1) < state]
        acknowledged = found
        top = max(top, *found.values(), *told.values()) if found else top
    return {"kills": kills, "saves": top, "lost": lost, "notices": sorted(words), "aside": asides(folder)}


def asides(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir() if "damaged" in path.name]


def main(give: Callable[[str], object]) -> None:
    folder, kills, seed = sys.argv[1:]
    give(json.dumps(run(Path(folder), int(kills), int(seed))))


if __name__ == "__main__":
    main(sys.stdout.write)
