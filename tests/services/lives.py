"""Random lives of gear: what a crew may do from day to day, tried in any order; what is refused changes nothing."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from typing import Any

from hypothesis import strategies as st

from gearlog.domain.inspection import InspectionKind, Mark
from gearlog.domain.item import Item
from gearlog.domain.vocabulary import EventKind
from gearlog.errors import GearlogError
from gearlog.services.book import Book, memory_book
from tests.making import made_form

FIRST = date(2024, 1, 30)
ROPE = {
    "name": "line", "category": "lifeline", "construction": "hollow-braid", "lay": "loose", "strands": "12",
    "cover_fibre": "polyester", "diameter": "12 mm", "length_bought": "60 m", "breaking_strength": "24 kN",
}  # fmt: skip
EYE = {"method": "hollow-eye", "eye": "150 mm", "pin": "50 mm"}
PLAIN = ("dropped", "fall-arrested", "chemical-contact", "quarantined", "washed", "lost", "found", "examined",
         "released", "loaned", "returned")  # fmt: skip
SEVERITIES = ("note", "watch", "stop")

Act = tuple[str, int, int, int, int]
"""What, on which item, two numbers that say how, and how many days later."""

ACTS = ("event", "event", "inspect", "inspect", "release", "piece", "end", "splice", "strike", "strike inspection",
        "retire", "undo")  # fmt: skip


def acts(*names: str) -> st.SearchStrategy[list[Act]]:
    """Strategies for a life of such acts."""
    number = st.integers(0, 11)
    return st.lists(st.tuples(st.sampled_from(names), number, number, number, st.integers(0, 45)), max_size=14)


@dataclass
class Life:
    """A log in memory and its clock, moved by hand.

    Attributes:
        backdated: whether entries may tell of earlier days.
    """

    backdated: bool = False
    day: date = FIRST
    ticks: int = 0
    book: Book = field(init=False)

    def __post_init__(self) -> None:
        self.book = memory_book(today=lambda: self.day, now=self._now)
        self.book.gear.add(ROPE)
        self.book.gear.add({"name": "connector", "category": "connector"})

    def _now(self) -> datetime:
        self.ticks += 1
        return datetime(self.day.year, self.day.month, self.day.day, 8, tzinfo=UTC) + timedelta(seconds=self.ticks)

    @property
    def items(self) -> list[Item]:
        return [row.item for row in self.book.gear.rows()]

    def do(self, act: Act) -> None:
        """Try one act; a refusal is an answer."""
        name, which, how, more, later = act
        self.day += timedelta(days=later)
        deeds: dict[str, Callable[[Item, int, int], Any]] = {
            "event": self._event, "inspect": self._inspect, "release": self._release, "piece": self._piece,
            "end": self._end, "splice": self._splice, "strike": self._strike,
            "strike inspection": self._strike_inspection, "retire": self._retire, "undo": self._undo,
        }  # fmt: skip
        items = self.items
        with suppress(GearlogError):
            deeds[name](items[which % len(items)], how, more)

    def _on(self, more: int) -> str:
        return (self.day - timedelta(days=more * 9 if self.backdated else 0)).isoformat()

    def _event(self, item: Item, how: int, more: int) -> None:
        kind = PLAIN[how % len(PLAIN)]
        self.book.gear.record_event(item.id, {"kind": kind, "happened_on": self._on(more), "notes": "so", "by": "AB"})

    def _inspect(self, item: Item, how: int, more: int) -> None:
        kind = list(InspectionKind)[how % 4]
        sheet = self.book.inspecting.sheet(item.id, kind)
        for line in sheet.lines:
            sheet = sheet.see(line.key)
        if how % 3 == 0:
            sheet = sheet.answer(sheet.lines[more % len(sheet.lines)].key, Mark.FAIL, "seen")
        sheet = sheet.pass_rest()
        if how % 2:
            form = {
                "severity": SEVERITIES[more % 3],
                "words": "seen",
                "at": f"{how * 4 + more / 4} m" if item.rope else "",
            }
            sheet = sheet.with_finding(self.book.inspecting.finding(sheet, form))
        form = {"inspected_on": self._on(more), "inspector": "AB", "competence": "course"}
        self.book.inspecting.record(sheet, form)

    def _release(self, item: Item, how: int, more: int) -> None:
        self.book.standing.decide(
            item.id, EventKind.RELEASED, {"happened_on": self._on(more), "by": "AB", "notes": f"sound {how}"}
        )

    def _piece(self, item: Item, how: int, more: int) -> None:
        form = self.book.gear.form_for_piece(item.id) | {
            "name": "piece", "length_bought": f"{1 + how} m", "parent_end": "AB"[more % 2], "cut_on": self._on(more),
        }  # fmt: skip
        self.book.gear.add(form)

    def _end(self, item: Item, how: int, more: int) -> None:
        self.book.gear.cut(
            item.id,
            {"cut_as": ("end", "trim")[how % 2], "cut_end": "AB"[more % 2], "length": f"{how + 1} ft",
             "happened_on": self._on(more)},
        )  # fmt: skip

    def _splice(self, item: Item, how: int, more: int) -> None:
        if item.rope is None:
            return
        end = "AB"[more % 2]
        plan = self.book.planner.plan(self.book.planner.form_for(item.id, end) | EYE)
        outcome = ("good", "good", "failed", "usable-with-remark")[how % 4]
        form = made_form(self.book, plan) | {"made_on": self._on(more), "end": end, "outcome": outcome}
        self.book.diary.record(form, plan)

    def _strike(self, item: Item, how: int, more: int) -> None:
        del more
        events = [event for event in self.book.gear.card(item.id).events if not event.struck_because]
        if events:
            self.book.gear.strike(events[how % len(events)].id, "wrong item")

    def _strike_inspection(self, item: Item, how: int, more: int) -> None:
        del more
        found = [one for one in self.book.inspecting.of(item.id) if not one.struck_because]
        if found:
            self.book.inspecting.strike(found[how % len(found)].id, "wrong item")

    def _retire(self, item: Item, how: int, more: int) -> None:
        kind = (EventKind.RETIRED, EventKind.DESTROYED)[how % 2]
        self.book.standing.decide(item.id, kind, {"happened_on": self._on(more), "by": "AB", "notes": "worn"})

    def _undo(self, item: Item, how: int, more: int) -> None:
        del item, how, more
        if len(self.items) > 2 or (self.book.last_change() or "").startswith(("line", "connector", "strike", "record")):
            self.book.undo()
