"""The planner's pages, each made for a width: the plan, its steps, what worked last time, why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gearlog.domain.explained import Explained
from gearlog.domain.plan import Plan, PlanInputs
from gearlog.errors import GearlogError
from gearlog.recall import Recall
from gearlog.tui.widgets.lines import BLANK, Line, Tone, heading, paragraph
from gearlog.tui.widgets.lines_view import Page
from gearlog.tui.widgets.plan_state import PlanState
from gearlog.tui.widgets.plan_view import Pictures, plan_page, steps_page
from gearlog.tui.widgets.plan_why import why_page
from gearlog.tui.widgets.recall_view import RecallPage
from gearlog.units.visible import folded

if TYPE_CHECKING:
    from gearlog.services.book import Book
    from gearlog.splicing.guidance import Advice

PAGES = ("fields", "plan", "steps", "last time", "why")
STALE = "NOT CURRENT: this is the last good plan; do not cut by it."


@dataclass(frozen=True)
class _Asked:
    """For what the diary was asked; its answer holds until this changes."""

    inputs: PlanInputs
    version: int


class PlanPages:
    """Makes the pages; what worked last time is asked once for each plan and state of the log."""

    def __init__(self, book: Book) -> None:
        self._book = book
        self._asked: _Asked | None = None
        self._recall: Recall | None = None
        self._explained: tuple[Plan, tuple[Explained, ...]] | None = None

    def page(self, name: str, state: PlanState, form: Mapping[str, str]) -> Page:
        """The page of this name for a state of the plan."""
        plan = state.plan
        if plan is None:
            return lambda width: self._no_plan(form, width)
        stale = not state.current
        return lambda width: (*(_stale(width) if stale else ()), *self._lines(name, plan, width))

    def _lines(self, name: str, plan: Plan, width: int) -> tuple[Line, ...]:
        if name == "steps":
            return steps_page(plan, width)
        if name == "last time":
            return self.last_time(plan).lines(width)
        if name == "why":
            return self._why(plan, width)
        return plan_page(plan, _pictures(plan, width), width)

    def _why(self, plan: Plan, width: int) -> tuple[Line, ...]:
        try:
            return why_page(plan, self.explained(plan), width)
        except GearlogError as error:
            return paragraph(f"{error.title}: {error.message}", width, tone=Tone.WARN)

    def explained(self, plan: Plan) -> tuple[Explained, ...]:
        """Every number of the plan explained, worked out once; raises NotFoundError as ``Planner.explain``."""
        if self._explained is None or self._explained[0] is not plan:
            self._explained = (plan, self._book.planner.explain(plan))
        return self._explained[1]

    def knows(self, plan: Plan) -> bool:
        """Whether what worked last time was already asked for this plan."""
        return self._recall is not None and self._asked == _Asked(plan.inputs, self._book.version)

    def last_time(self, plan: Plan) -> RecallPage:
        """What worked last time; asked anew only for another plan or another state of the log."""
        asked = _Asked(plan.inputs, self._book.version)
        if self._recall is None or asked != self._asked:
            self._recall = self._book.planner.recall(plan.inputs)
            self._asked = asked
        return RecallPage(self._recall, plan.inputs.unit, plan.inputs.tape_parts)

    def _no_plan(self, form: Mapping[str, str], width: int) -> tuple[Line, ...]:
        words = "There is no plan yet. Type or take a rope, choose the method, type the eye; it comes by itself."
        advice = self._book.planner.advice(form)
        suits = [*_that_fit(advice, width), *_that_do_not(advice, width)]
        faults = [line for words in self._book.planner.method_faults() for line in paragraph(words, width, first="! ")]
        return (
            *paragraph(words, width),
            *((*heading("What suits this rope"), *suits) if suits else ()),
            *((*heading("Own method files that do not read"), *faults) if faults else ()),
        )


def _that_fit(advice: Sequence[Advice], width: int) -> Iterator[Line]:
    for one in advice:
        if one.fits:
            yield BLANK
            yield from paragraph(f"FITS  {one.title}", width, tone=Tone.STRONG)
            yield from paragraph(one.reason, width, first="    ")


def _that_do_not(advice: Sequence[Advice], width: int) -> Iterator[Line]:
    """Each reason once, with all methods that it keeps out."""
    kept_out: dict[str, list[str]] = {}
    for one in advice:
        if not one.fits:
            kept_out.setdefault(one.reason.removeprefix(f"'{one.title}' is "), []).append(one.title)
    for reason, titles in kept_out.items():
        yield BLANK
        yield from paragraph(f"DOES NOT FIT  {reason}", width, tone=Tone.STRONG)
        for title in titles:
            yield from paragraph(title, width, first="    - ")


def _pictures(plan: Plan, width: int) -> Pictures:
    """The drawings, without the stops above them and without the list of marks, which the table tells in full."""
    from gearlog.splicing.drawing import draw, fill_profile, legend

    if not plan.marks:
        return Pictures()
    stops = (folded(f"STOP: {check.message}", width, inset=2) for check in plan.checks if check.level == "stop")
    listed = {*legend(plan, width), *(line for lines in stops for line in lines)}
    return Pictures(tuple(row for row in draw(plan, width) if row not in listed), fill_profile(plan, width))


def _stale(width: int) -> tuple[Line, ...]:
    return (*paragraph(STALE, width, tone=Tone.STOP), BLANK)
