"""Makes ten years of an invented crew: 2,000 items, 10,000 splices and 40,000 inspections, for measuring.

Run it with ``python -m gearlog.devtools.decade --out FOLDER``; the same date gives the same records. Records go
straight to the store in three saves, past the services: forms would take minutes, and nothing here is typed.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import cached_property
from pathlib import Path
from random import Random

import msgspec

from gearlog.domain.dates import PartialDate
from gearlog.domain.inspection import Answer, Finding, Inspection, InspectionKind, Mark, Severity
from gearlog.domain.inspection_rules import verdict_by_rules
from gearlog.domain.item import Item, LifeLimit, RopeFacts
from gearlog.domain.plan import Plan
from gearlog.domain.plan_inputs import PlanInputs, RopeSpec, Tool
from gearlog.domain.splice import Measured, Splice
from gearlog.domain.vocabulary import ROPE_CATEGORIES, Category, Condition, Difficulty, End, Outcome
from gearlog.splicing.method_file import load_builtin
from gearlog.splicing.plan import make_plan
from gearlog.storage import Store, open_store
from gearlog.units.measure import Force, Length
from gearlog.upkeep.asking import lines_for

SEED = 20261101
DAYS = 3652  # ten years
MORNING = time(8, tzinfo=UTC)  # when the crew writes
EYES_MM = (60, 80, 100, 150, 200, 300)  # eyes that the crew makes again and again
KINDS = (("hollow-braid", "hollow-eye", "12 mm"), ("cover-loaded", "cover-eye", "12.7 mm"),
         ("three-strand", "laid-eye", "16 mm"))  # fmt: skip
"""Construction, the method that suits it, and a diameter that it is sold in."""
FIVE, ROPES_OF_FIVE = 5, 2  # two ropes in five things; the rest is hardware
HARDWARE = tuple(category for category in Category if category not in ROPE_CATEGORIES)
WORDS = ("a glazed patch", "two pulled strands", "a dent", "the mark is worn off", "dirt under the cover")
SEEN = {Severity.NOTE: 88, Severity.WATCH: 11, Severity.STOP: 1}
"""How grave a finding is, in the hundred."""
FINDINGS = 0.25  # share of the inspections in which something is seen
THOROUGH = 0.5  # share of the inspections that are thorough examinations


class Amounts(msgspec.Struct, frozen=True):
    """How much there is of everything."""

    items: int = 2_000
    splices: int = 10_000
    inspections: int = 40_000


WHOLE = Amounts()


@dataclass(slots=True)
class Decade:
    """The dice and the days of ten years that end on ``day``."""

    dice: Random
    day: date

    def new_id(self) -> str:
        """An id like those of a real log."""
        return self.dice.randbytes(8).hex()

    def moment(self, number: int, of: int) -> datetime:
        """When the ``number``-th of so many records was written: evenly over the ten years."""
        start = self.day - timedelta(days=DAYS)
        ago = timedelta(seconds=number % 3600)
        return datetime.combine(start + timedelta(days=number * DAYS // of), MORNING) + ago

    def item(self, number: int, of: int) -> Item:
        """A thing with a past of five years at least."""
        entered = self.moment(number // 2, of)  # bought in the first five years
        made = entered.date() - timedelta(days=self.dice.randrange(30, 400))
        is_rope = number % FIVE < ROPES_OF_FIVE
        category = self.dice.choice(tuple(sorted(ROPE_CATEGORIES)) if is_rope else HARDWARE)
        return Item(
            id=self.new_id(),
            created_at=entered,
            changed_at=entered,
            tag=f"{category.value[:3]}-{number}",
            category=category,
            name=f"{category.value.replace('-', ' ')} {number}",
            maker=f"Maker {'ABCDE'[number % 5]}",
            model=f"Model {number % 17}",
            serial=f"S{number:07d}",
            breaking_strength=Force.read(f"{22 + number % 9} kN"),
            made_on=PartialDate(made.isoformat()[:7]),
            first_used_on=PartialDate.of(entered.date()),
            life_limit=LifeLimit(years_from_made=10, read_at="maker's sheet") if number % 3 else None,
            kept_at=f"box {number % 23}",
            rope=self._rope(number) if is_rope else None,
        )

    def _rope(self, number: int) -> RopeFacts:
        construction, _, diameter = KINDS[number % len(KINDS)]
        length = Length.read(f"{self.dice.randrange(20, 120)} m")
        return RopeFacts(
            construction=construction, diameter=Length.read(diameter), cover_fibre="polyester", length_bought=length
        )

    def splice(self, number: int, of: int, rope: Item, plan: Plan) -> Splice:
        """One that was made as planned, more or less."""
        made = max(self.moment(number, of), rope.created_at)
        off_mm = self.dice.gauss(1.0, 3.0)
        eye_mm = round((plan.inputs.eye_m or 0.0) * 1000 + off_mm)
        places = {mark.id: round(mark.at_m * 1000 + off_mm) for mark in plan.marks}
        return Splice(
            id=self.new_id(),
            created_at=made,
            changed_at=made,
            rope_id=rope.id,
            end=End.A if number % 2 else End.B,
            method=plan.method,
            plan=plan,
            made_on=PartialDate.of(made.date()),
            measured=tuple(Measured(mark=mark, at=Length.read(f"{mm} mm")) for mark, mm in places.items() if mm > 0),
            finished_eye=Length.read(f"{eye_mm} mm"),
            tools=("wire fid", "tape"),
            minutes=self.dice.randrange(20, 120),
            condition=self.dice.choice((Condition.NEW, Condition.USED)),
            made_by=f"splicer {1 + number % 4}",
            outcome=self.dice.choices((Outcome.GOOD, Outcome.REMARK, Outcome.REMADE), (90, 8, 2))[0],
            difficulties=(self.dice.choice(tuple(Difficulty)),) if number % 4 == 0 else (),
        )

    def inspection(self, number: int, of: int, item: Item, asked: tuple[Answer, ...]) -> Inspection:
        """Every line is answered; in one of four something is seen."""
        at = max(self.moment(number, of), item.created_at)
        thorough = self.dice.random() < THOROUGH
        findings = self._findings(item) if self.dice.random() < FINDINGS else ()
        verdict = verdict_by_rules(asked, findings)
        return Inspection(
            id=self.new_id(),
            created_at=at,
            changed_at=at,
            item_id=item.id,
            kind=InspectionKind.THOROUGH if thorough else InspectionKind.BEFORE_USE,
            inspected_on=PartialDate.of(at.date()),
            inspector=f"inspector {1 + number % 3}",
            competence="inspector's course, certificate 12",
            answers=asked,
            findings=findings,
            ruled=verdict,
            verdict=verdict,
            next_due_on=PartialDate.of(at.date() + timedelta(days=182)) if thorough else None,
        )

    def _findings(self, item: Item) -> tuple[Finding, ...]:
        severity = self.dice.choices(tuple(SEEN), tuple(SEEN.values()))[0]
        place = Length.read(f"{self.dice.randrange(1, 190) / 10} m") if item.rope else None
        return (Finding(id=self.new_id(), severity=severity, words=self.dice.choice(WORDS), at=place),)


class Plans:
    """The plans that the crew works from: one for each method and eye."""

    @cached_property
    def _made(self) -> dict[str, list[Plan]]:
        methods = {method.id: method for method in load_builtin()}
        return {
            construction: [make_plan(methods[method], _inputs(method, construction, size, eye)) for eye in EYES_MM]
            for construction, method, size in KINDS
        }

    def of(self, rope: Item, number: int) -> Plan:
        """A plan for this rope."""
        plans = self._made[rope.rope.construction if rope.rope else ""]
        return plans[number % len(plans)]


def _inputs(method: str, construction: str, size: str, eye_mm: int) -> PlanInputs:
    rope = RopeSpec(construction=construction, diameter_m=Length.read(size).si, fibre="polyester", mbs_n=24_000.0)
    tools = (Tool(name="wire fid", length_m=0.3),)
    return PlanInputs(method=method, rope=rope, eye_m=eye_mm / 1000, pin_m=0.012, tools=tools)


def fill(store: Store, day: date, amounts: Amounts = WHOLE) -> None:
    """Write the ten years into an empty log, as they stand on ``day``."""
    decade = Decade(Random(SEED), day)  # noqa: S311 (made-up data, no secret)
    items = [decade.item(number, amounts.items) for number in range(amounts.items)]
    store.save(*items, label="ten years of gear")
    store.save(*_splices(decade, items, amounts.splices), label="ten years of splices")
    store.save(*_inspections(decade, items, amounts.inspections), label="ten years of inspections")


def _splices(decade: Decade, items: Sequence[Item], of: int) -> Iterator[Splice]:
    ropes, plans = [item for item in items if item.rope], Plans()
    for number in range(of):
        rope = ropes[number % len(ropes)]
        yield decade.splice(number, of, rope, plans.of(rope, number // len(ropes)))


def _inspections(decade: Decade, items: Sequence[Item], of: int) -> Iterator[Inspection]:
    asked = {item.id: _answers(item) for item in items}
    for number in range(of):
        item = items[number % len(items)]
        yield decade.inspection(number, of, item, asked[item.id])


def _answers(item: Item) -> tuple[Answer, ...]:
    return tuple(Answer(line=line.key, asked=line.look, mark=Mark.PASS) for line in lines_for(item, {}))


def build(folder: Path, day: date, amounts: Amounts = WHOLE) -> None:
    """Make a log of ten years in an empty folder."""
    with open_store(folder) as store:
        fill(store, day, amounts)


def main(arguments: Sequence[str] | None = None) -> None:
    """Build the log in ``--out``."""
    parser = argparse.ArgumentParser(description="Make a log of ten years, for measuring.")
    parser.add_argument("--date", type=date.fromisoformat, default=date(2026, 11, 1), help="the day of the last entry")
    parser.add_argument("--out", type=Path, required=True, help="an empty folder for the log")
    options = parser.parse_args(arguments)
    build(options.out, options.date)


if __name__ == "__main__":
    main()
