"""A user who is killed again and again in the middle of work, and a check of what they had been told. A program.

One process forks every life, so that imports are paid once. A life opens the log and repeats one act: it saves an
item, cuts a piece off a rope, takes in a list, presses at the bench, or closes and opens again. Each act is told
through a pipe once it returned. The parent kills the life at a random moment with SIGKILL and compares the log with
what was told: all of it is there, and of an act in the middle there is all or nothing. Prints a JSON report.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sys
import time
from collections import Counter
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import filelock  # noqa: F401 (loaded late by the lock; here once for all lives)
import slugify  # noqa: F401 (loaded late by the tags; the same)

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.services.book import Book, open_book
from gearlog.services.clock import clock
from gearlog.storage import disk, open_store
from tests.services.conftest import EYE, HOLLOW

LINES = 4  # of a list that is taken in
SMALL_FOLD = 20_000  # bytes of journal; folds come often, so that many are cut short
LIVES_A_LOG = 40  # then a new log: a long one would make each life slow
LONGEST_LIFE_S = 0.010
DURING_OPENING = 0.2  # share of the kills that do not wait for the first act
TODAY = date(2025, 6, 1)
Act = Callable[[Book, str, int], None]


def opened(folder: Path) -> Book:
    return open_book(folder, today=lambda: TODAY)


def looked_at(folder: Path) -> Book:
    """The log as the killed life left it; nothing is mended here."""
    return Book(open_store(folder, read_only=True), clock(lambda: TODAY, None))


def save(book: Book, bench: str, number: int) -> None:
    book.gear.add({"name": f"saved {number}", "tag": f"saved-{number}", "category": "connector"})


def cut(book: Book, bench: str, number: int) -> None:
    form = book.gear.form_for_piece(book.gear.by_tag("rope").id)
    piece = {"name": "piece", "tag": f"cut-{number}", "length_bought": "50 mm", "parent_end": "B"}
    book.gear.add(form | piece)


def take_in(book: Book, bench: str, number: int) -> None:
    rows = "".join(f"imported-{number}-{line},list {number},connector\n" for line in range(LINES))
    book.importing.take_in(f"Tag,Name,Category\n{rows}".encode(), "list.csv")


def press(book: Book, bench: str, number: int) -> None:
    book.bench.remark(bench, f"remark {number}")


ACTS: dict[str, Act] = {"saved": save, "cut": cut, "imported": take_in, "pressed": press}


def begin(folder: Path) -> str:
    """A log with a rope and a splice at the bench; its id."""
    with opened(folder) as book:
        rope = book.gear.add(HOLLOW | {"name": "rope", "tag": "rope", "length_bought": "900 m"})
        return book.bench.start(book.planner.plan(book.planner.form_for(rope.id, "A") | EYE)).id


def live(folder: Path, bench: str, kind: str, told: int, first: int) -> None:
    """Repeat one act until killed; a log that is closed between is folded each time."""
    number, act = first, ACTS[kind]
    while True:
        with opened(folder) as book:
            if kind == "pressed":
                book.bench.enter(bench)
            for _ in range(3):
                number += 1
                act(book, bench, number)
                os.write(told, f"{kind} {number}\n".encode())


def one_life(folder: Path, bench: str, kind: str, first: int, dice: random.Random) -> list[int]:
    """Let it live for a moment; the numbers of the acts that it was told were done."""
    heard, told = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(heard)
        try:
            live(folder, bench, kind, told, first)
        finally:
            os._exit(3)
    os.close(told)
    text = b"" if dice.random() < DURING_OPENING else os.read(heard, 1 << 16)
    time.sleep(dice.random() * LONGEST_LIFE_S)
    os.kill(child, signal.SIGKILL)
    while part := os.read(heard, 1 << 16):
        text += part
    os.close(heard)
    os.waitpid(child, 0)
    return [int(line.split()[1]) for line in text.decode().splitlines()]


def found(book: Book, bench: str) -> tuple[dict[str, Counter[int]], list[str]]:
    """How often each act stands in the log, and what stands there only by half."""
    acts: dict[str, Counter[int]] = {kind: Counter() for kind in ACTS}
    tags = [item.tag.split("-") for item in book._store.records(Item)]
    for tag in tags:
        if tag[0] in acts:
            acts[tag[0]][int(tag[1])] += 1
    remark = next((step.remark for step in book.bench.view(bench).steps if step.remark), "")
    acts["pressed"][int(remark.split()[1]) if remark else 0] = 1
    half = [f"list {number}: {count}" for number, count in acts["imported"].items() if count != LINES]
    pieces = {item.id for item in book._store.records(Item) if item.rope and item.rope.parent_id}
    cuts = {event.piece_id for event in book._store.records(Event) if event.piece_id}
    return acts, half + [f"piece without its cut, or the other way: {one}" for one in pieces ^ cuts]


def lost_of(told: list[int], acts: Counter[int], kind: str) -> list[str]:
    if kind == "pressed":
        return [f"press {number}" for number in told[-1:] if max(acts) < number]
    return [f"{kind} {number}" for number in told if number not in acts]


def run(folder: Path, kills: int, seed: int) -> dict[str, Any]:
    dice = random.Random(seed)  # noqa: S311 (moments of death, not secrets)
    disk.FOLD_AT = SMALL_FOLD
    for name in ("fsync", "fdatasync"):  # a kill leaves what was written; only a power cut could tell
        setattr(os, name, lambda descriptor: None)
    lost: list[str] = []
    half: list[str] = []
    words: set[str] = set()
    done: Counter[str] = Counter()
    top, bench, log = 0, "", folder
    for life in range(kills):
        if life % LIVES_A_LOG == 0:
            log = folder / str(life)
            bench = begin(log)
        kind = dice.choice(tuple(ACTS))
        told = one_life(log, bench, kind, top, dice)
        done[kind] += len(told)
        with looked_at(log) as book:
            words.update(book.notices)
            acts, torn = found(book, bench)
        lost += [f"life {life}: {what}" for what in lost_of(told, acts[kind], kind)]
        half += torn
        top = max([top, *told, *(number for numbers in acts.values() for number in numbers)])
    aside = [path.name for path in folder.rglob("*damaged*")]
    return {"kills": kills, "done": done, "lost": lost, "half": half, "notices": sorted(words), "aside": aside}


def main(give: Callable[[str], object]) -> None:
    folder, kills, seed = sys.argv[1:]
    give(json.dumps(run(Path(folder), int(kills), int(seed))))


if __name__ == "__main__":
    main(sys.stdout.write)
