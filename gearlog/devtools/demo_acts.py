"""What the invented crew did, read from the tables beside this file, in the order in which it happened."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from importlib.resources import files
from typing import Any

START = 731  # days before the log's day: the crew's first entry, two years ago
HALF_YEAR = 182  # days between two examinations
_AGO = re.compile(r"@-(\d+)(?: (month|year))?")
EXAMINER = {"inspector": "inspector 1", "competence": "inspector's course, certificate 1", "independent": "yes"}
"""Who comes twice a year to examine everything."""
_SHOWN = {"month": 7, "year": 4, None: 10}  # characters of an ISO date


@dataclass(frozen=True, slots=True)
class Act:
    """One entry that the crew made.

    Attributes:
        ago: days before the log's day.
        kind: ``item``, ``event``, ``splice``, ``inspection``, ``kit``, ``test`` or ``bench``.
        form: what was typed, dates resolved.
        tag: of an event, the item.
        work: of all but an item and an event, the row of its table.
    """

    ago: int
    kind: str
    form: Mapping[str, str]
    tag: str = ""
    work: Mapping[str, Any] = field(default_factory=dict)


def acts(day: date) -> tuple[Act, ...]:
    """Every entry up to ``day``, oldest first; entries of one day as they stand in the tables."""
    found = [*_items("demo_ropes.toml", day), *_items("demo_gear.toml", day), *_splices(), *_trials(), *_life(day)]
    return tuple(sorted(found, key=lambda act: -act.ago))


def on(day: date, ago: int) -> str:
    """The ISO date ``ago`` days before ``day``."""
    return (day - timedelta(days=ago)).isoformat()


def _rows(name: str, table: str) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = tomllib.loads(files(__package__).joinpath(name).read_text("utf-8"))[table]
    return rows


def _items(name: str, day: date) -> Iterator[Act]:
    for row in _rows(name, "item"):
        happened = row.pop("events", [])
        last = row.pop("last_exam", None)
        noted, found = row.pop("last_exam_noted", False), row.pop("last_exam_found", [])
        entered = _entered(row)
        yield Act(entered, "item", {key: _resolved(text, day) for key, text in row.items()})
        for event in happened:
            yield _event(row["tag"], event, day)
        if last is not None:
            last_one = None if noted else EXAMINER | {"item": row["tag"], "kind": "thorough", "findings": found}
            yield from _examinations(row["tag"], last, entered, day, last_one)


def _entered(row: Mapping[str, str]) -> int:
    """When the crew wrote it down: once it was bought and first used, at the earliest on the log's first day."""
    dated = (_AGO.match(row.get(name, "")) for name in ("bought_on", "first_used_on"))
    return min([START, *(int(match[1]) for match in dated if match)])


def _resolved(text: str, day: date) -> str:
    match = _AGO.fullmatch(text)
    return on(day, int(match[1]))[: _SHOWN[match[2]]] if match else text


def _event(tag: str, row: Mapping[str, Any], day: date) -> Act:
    form = {key: text for key, text in row.items() if key != "ago"}
    return Act(row["ago"], "event", form | {"happened_on": on(day, row["ago"])}, tag)


def _examinations(tag: str, last: int, entered: int, day: date, inspected: Mapping[str, Any] | None) -> Iterator[Act]:
    """The last one by its record, unless only its day was noted; of earlier ones the log holds a line each."""
    for ago in range(last, entered, HALF_YEAR):
        next_due = on(day, ago - HALF_YEAR)
        if ago == last and inspected is not None:
            yield Act(ago, "inspection", {}, work={**inspected, "next_due_on": next_due})
        else:
            form = {
                "kind": "examined",
                "happened_on": on(day, ago),
                "by": EXAMINER["inspector"],
                "next_due_on": next_due,
            }
            yield Act(ago, "event", form, tag)


def _splices() -> Iterator[Act]:
    for row in _rows("demo_splices.toml", "splice"):
        yield Act(row["ago"], "splice", {}, work=row)


def _trials() -> Iterator[Act]:
    for kind in ("test", "bench"):
        for row in _rows("demo_trials.toml", kind):
            yield Act(row["ago"], kind, {}, work=row)


def _life(day: date) -> Iterator[Act]:
    for kind in ("inspection", "kit"):
        for row in _rows("demo_life.toml", kind):
            yield Act(row["ago"], kind, {}, work=row)
    for row in _rows("demo_life.toml", "event"):
        yield _event(row.pop("item"), row, day)
