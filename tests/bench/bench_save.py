"""What one durable save and one opening cost, against the floors of the same run.

Run: python tests/bench/bench_save.py
"""

from __future__ import annotations

import json
import sys
import tempfile
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.item import Item, RopeFacts
from gearlog.domain.vocabulary import Category, EventKind
from gearlog.storage import Store, open_store
from gearlog.units.measure import Force, Length
from tests.bench.floors import best_ms, flushed_append, ratio, side_by_side_ms

SIZES = (1_000, 10_000, 50_000)
ROUNDS = 300
OPENINGS = 5
NOW = datetime(2024, 5, 31, 8, 0, tzinfo=UTC)


def item(number: int) -> Item:
    """A rope as it is in a real log: most fields filled."""
    facts = RopeFacts(construction="cover-loaded", strands=16, diameter=Length.read("12.7 mm"), cover_fibre="polyester")
    return Item(
        id=f"{number:016x}",
        created_at=NOW,
        changed_at=NOW,
        tag=f"line-{number}",
        category=Category.RIGGING_LINE,
        name=f"Rigging line {number}",
        maker="Maker A",
        serial=f"S{number:07d}",
        breaking_strength=Force.read("24 kN"),
        made_on=PartialDate.read("2023-04"),
        rope=facts,
    )


def event(number: int, things: int) -> Event:
    """A washing of one of the ropes."""
    return Event(
        id=f"e{number:015x}",
        created_at=NOW,
        changed_at=NOW,
        item_id=f"{number % things:016x}",
        kind=EventKind.WASHED,
        happened_on=PartialDate.read(f"20{number % 20:02d}-05-31"),
    )


def fill(store: Store, count: int) -> None:
    """Half things, half events."""
    half = count // 2
    store.save(*[item(number) for number in range(half)], label="fill")
    store.save(*[event(number, half) for number in range(half)], label="fill")


def saving(folder: Path, count: int) -> str:
    """One save in a log of ``count`` records."""
    with open_store(folder / "log") as store:
        fill(store, count)
        store.records(Item), store.records(Event)
        numbers = iter(range(count, count + ROUNDS + 1))
        before = (folder / "log" / "log.journal").stat().st_size
        save = lambda: store.save(item(next(numbers)), label="Add a rope")  # noqa: E731 (timed as it stands)
        save()  # type: ignore[no-untyped-call]
        line = (folder / "log" / "log.journal").read_bytes()[before:]
        append = flushed_append(folder / "floor", line)
        saved, floor = side_by_side_ms(save, append, ROUNDS)
    return ratio(f"{count:6} records, one save", saved, "one appended and flushed line", floor)


def opening(folder: Path, count: int) -> tuple[str, ...]:
    """Opening the same log, and opening with every record read."""
    text = (folder / "log" / "log.json").read_bytes()

    def opened(*, read: bool) -> None:
        store = open_store(folder / "log", read_only=True)
        if read:
            store.records(Item), store.records(Event)

    parse = best_ms(lambda: json.loads(text), OPENINGS)
    plain = best_ms(lambda: opened(read=False), OPENINGS)
    whole = best_ms(lambda: opened(read=True), OPENINGS)
    floor = f"json.loads of its {len(text) / 1e6:.1f} MB"
    return (
        ratio(f"{count:6} records, opening", plain, floor, parse),
        ratio(f"{count:6} records, opening and reading each", whole, floor, parse),
    )


def main() -> None:
    """Print the ratios."""
    out = sys.stdout.write
    for count in SIZES:
        with tempfile.TemporaryDirectory() as name:
            out(saving(Path(name), count) + "\n")
            for line in opening(Path(name), count):
                out(line + "\n")


if __name__ == "__main__":
    main()
