"""The demo crew's tests of strength, and its splices that were given up or are still at the bench."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from gearlog.services.book import Book

A_MINUTE = 60.0  # s; looked at often enough that the clock never waits
TEST_BED = {
    "kind": "break", "pin": "35 mm", "place": "test bed of supplier 1", "machine": "hydraulic ram with load cell",
    "tested_by": "AB",
}  # fmt: skip
"""What is the same of every test unless its row says otherwise."""


@dataclass(slots=True)
class Watch:
    """Seconds at the bench that pass only when told, so that the same date gives the same log."""

    seconds: float = 0.0

    def __call__(self) -> float:
        """Now."""
        return self.seconds


def load(book: Book, work: Mapping[str, Any], on: str) -> None:
    """Enter the test of strength that a row of the table tells."""
    rope = book.gear.by_tag(work["rope"])
    splice = next(row.splice for row in book.diary.rows_of(rope.id) if row.splice.end == work["end"])
    told = {name: text for name, text in work.items() if name not in {"rope", "end", "ago"}}
    book.strength.record(splice.id, book.strength.blank_form() | TEST_BED | {"tested_on": on} | told)


def at_bench(book: Book, work: Mapping[str, Any]) -> None:
    """Follow a plan at the bench as far as a row of the table tells, and leave it there or give it up."""
    watch = book.bench.clock.seconds = Watch()
    before = book.settings.user
    book.keep(user=work["made_by"])
    length, thickness = work["fid"]
    typed = {name: work.get(name, "") for name in ("method", "eye", "pin", "condition")}
    rope = book.gear.by_tag(work["rope"])
    form = book.planner.form_for(rope.id, work["end"]) | typed | {"fid": length, "fid_thickness": thickness}
    begun = book.bench.start(book.planner.plan(form))
    remarks = [*work.get("remarks", ()), *[""] * work["steps"]]
    for remark in remarks[: work["steps"]]:
        for _ in range(work["minutes"]):
            watch.seconds += A_MINUTE
            book.bench.key(begun.id)
        if remark:
            book.bench.remark(begun.id, remark)
        book.bench.done(begun.id)
    for mark, text in work.get("measured", {}).items():
        book.bench.measure(begun.id, mark, text)
    if "given_up" in work:
        book.bench.give_up(begun.id, work["given_up"])
    book.keep(user=before)
