"""What was found or spliced lies where its fibre is after any cuts: compared with a tape kept beside the log."""

from __future__ import annotations

from contextlib import suppress
from datetime import timedelta
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from gearlog.domain.inspection import InspectionKind
from gearlog.domain.item import Item
from gearlog.errors import GearlogError
from tests.services.lives import EYE, Life

CENTIMETRE = Fraction(1, 100)
Act = tuple[str, int, int, bool, int]
"""What is done, on which rope, how far along or how much (cm), at end A, how many days later."""


class Tape(Life):
    """A life in which each rope's place in the first rope is kept: from where to where of it (m)."""

    def __post_init__(self) -> None:
        super().__post_init__()
        rope = self.items[0]
        self.held = {rope.id: (Fraction(0), Fraction(60))}
        self.at: dict[str, Fraction] = {}

    def act(self, act: Act) -> None:
        """Do it, and move the tape where the log took it."""
        name, which, much, at_a, later = act
        self.day += timedelta(days=later)
        ropes = [item for item in self.items if item.rope]
        item = ropes[which % len(ropes)]
        start, stop = self.held[item.id]
        along = min(much * CENTIMETRE, stop - start)
        with suppress(GearlogError):
            getattr(self, name)(item, along, "A" if at_a else "B")

    def find(self, item: Item, along: Fraction, _: str) -> None:
        sheet = self.book.inspecting.sheet(item.id, InspectionKind.INTERIM)
        for line in sheet.lines:
            sheet = sheet.see(line.key)
        words = f"finding {len(self.at)}"
        form = {"severity": "note", "words": words, "at": f"{float(along):.2f} m"}
        sheet = sheet.pass_rest().with_finding(self.book.inspecting.finding(sheet, form))
        self.book.inspecting.record(sheet, {"inspected_on": self.day.isoformat(), "inspector": "AB"})
        self.at[words] = self.held[item.id][0] + along

    def join(self, item: Item, along: Fraction, _: str) -> None:
        form = {"rope": item.tag, "end": "between", "position": f"{float(along):.2f} m", "method": "hollow-end-to-end",
                "made_on": self.day.isoformat(), "outcome": "good"}  # fmt: skip
        made = self.book.diary.record(self.book.diary.blank_form() | form, None)
        self.at[made.id] = self.held[item.id][0] + along

    def eye(self, item: Item, _: Fraction, end: str) -> None:
        plan = self.book.planner.plan(self.book.planner.form_for(item.id, end) | EYE)
        form = {"made_on": self.day.isoformat(), "end": end, "outcome": "good"}
        self.book.diary.record(self.book.diary.form_from_plan(plan) | form, plan)

    def piece(self, item: Item, along: Fraction, end: str) -> None:
        form = {"name": "piece", "length_bought": f"{float(along):.2f} m", "parent_end": end,
                "cut_on": self.day.isoformat()}  # fmt: skip
        made = self.book.gear.add(self.book.gear.form_for_piece(item.id) | form)
        start, stop = self.held[item.id]
        self.held[made.id] = (start, start + along) if end == "A" else (stop - along, stop)
        self._shorter(item, along, end)

    def trim(self, item: Item, along: Fraction, end: str) -> None:
        form = {"cut_as": "trim", "cut_end": end, "length": f"{float(along):.2f} m",
                "happened_on": self.day.isoformat()}  # fmt: skip
        self.book.gear.cut(item.id, form)
        self._shorter(item, along, end)

    def _shorter(self, item: Item, along: Fraction, end: str) -> None:
        start, stop = self.held[item.id]
        self.held[item.id] = (start + along, stop) if end == "A" else (start, stop - along)


ACTS = st.tuples(
    st.sampled_from(("find", "find", "join", "eye", "piece", "trim")),
    st.integers(0, 5),
    st.integers(1, 2500),
    st.booleans(),
    st.integers(0, 2),
)


@settings(max_examples=60, deadline=None)
@given(st.lists(ACTS, max_size=14))
def test_everything_lies_where_its_fibre_is_on_one_rope_alone_or_is_gone(history: list[Act]) -> None:
    life = Tape()
    for act in history:
        life.act(act)
    seen: dict[str, int] = dict.fromkeys(life.at, 0)
    for item in life.items:
        card = life.book.gear.card(item.id)
        if card.account is None:
            continue
        start, stop = life.held[item.id]
        assert card.account.now == stop - start
        found = {row.finding.words: row.from_m for row in card.findings if not row.gone} | dict(card.places)
        for name, at in found.items():
            assert at == float(life.at[name] - start), name
            assert start <= life.at[name] <= stop, name
            seen[name] += start < life.at[name] < stop
    for name, fibre in life.at.items():
        assert seen[name] == any(start < fibre < stop for start, stop in life.held.values()), name
