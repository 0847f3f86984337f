"""Makes the demo log: two years of an invented tree crew, written through the services a user has.

Run it with ``python -m gearlog.devtools.demo --date 2026-11-01 --out sample_data/demo``; the same date gives
the same bytes.
"""

from __future__ import annotations

import argparse
import json
import shutil
import tempfile
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from random import Random

from gearlog.devtools.demo_acts import Act, acts, on
from gearlog.devtools.demo_bench import came_out, planned
from gearlog.devtools.demo_life import inspect, pack
from gearlog.devtools.demo_trials import at_bench, load
from gearlog.domain.identity import ids_from
from gearlog.services.book import Book, open_book

SEED = 20261101
EVENING = time(18, tzinfo=UTC)  # when the crew writes up its day
KEPT = ("log.json", "log.journal")
"""The files that are the log; locks and backups are not part of a demo."""
ANCHOR = "demo.json"
"""Names the day as of which the demo log stands."""


@dataclass(slots=True)
class Moment:
    """A clock that is moved by hand: the time of each entry in the made-up past."""

    day: date
    ago: int = 0
    ticks: int = 0

    def today(self) -> date:
        """The day of the entry."""
        return self.day - timedelta(days=self.ago)

    def now(self) -> datetime:
        """The evening of the day, a second later at each look."""
        self.ticks += 1
        return datetime.combine(self.today(), EVENING) + timedelta(seconds=self.ticks % 3600)


@dataclass(slots=True)
class Crew:
    """Who writes the entries: the open log, the dice, and how often each splice was made by whom."""

    book: Book
    dice: Random
    day: date
    made: Counter[tuple[str, str]] = field(default_factory=Counter)

    def enter(self, act: Act) -> None:
        """Write one entry into the log."""
        if act.kind == "item":
            self.book.gear.add({**self.book.gear.blank_form(), **act.form})
        elif act.kind == "event":
            self.book.gear.record_event(self.book.gear.by_tag(act.tag).id, act.form)
        elif act.kind == "inspection":
            inspect(self.book, act.work, on(self.day, act.ago))
        elif act.kind == "kit":
            pack(self.book, act.work)
        elif act.kind == "test":
            load(self.book, act.work, on(self.day, act.ago))
        elif act.kind == "bench":
            at_bench(self.book, act.work)
        else:
            self._splice(act)

    def _splice(self, act: Act) -> None:
        work = act.work
        rope = self.book.gear.by_tag(work["rope"])
        plan = self.book.planner.plan(self.book.planner.form_for(rope.id, work["end"]) | planned(work))
        hands = (work["made_by"], work["method"])
        form = self.book.diary.form_from_plan(plan) | came_out(work, plan, self.made[hands], self.dice)
        self.book.diary.record(form | {"made_on": on(self.day, act.ago), "end": work["end"]}, plan)
        self.made[hands] += 1


def build(folder: Path, day: date) -> None:
    """Write the demo log as it stands on ``day`` into an empty folder."""
    dice, moment = Random(SEED), Moment(day)  # noqa: S311 (made-up data, no secret)
    with ids_from(lambda size: dice.randbytes(size).hex()):
        book = open_book(folder, today=moment.today, now=moment.now)
        crew = Crew(book, Random(SEED), day)  # noqa: S311 (the same)
        for act in acts(day):
            moment.ago = act.ago
            crew.enter(act)
        moment.ago = 0
        book.close()


def main(arguments: Sequence[str] | None = None) -> None:
    """Build the log in a temporary folder and put its files into ``--out``."""
    parser = argparse.ArgumentParser(description="Make the demo log.")
    parser.add_argument("--date", type=date.fromisoformat, required=True, help="the day as of which it stands")
    parser.add_argument("--out", type=Path, required=True, help="folder for the log's files")
    options = parser.parse_args(arguments)
    options.out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        build(Path(folder), options.date)
        for name in KEPT:
            shutil.copyfile(Path(folder) / name, options.out / name)
    anchor = json.dumps({"date": options.date.isoformat()})
    (options.out / ANCHOR).write_text(anchor + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
