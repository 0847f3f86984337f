"""The planner's pages, each made for a width: the plan, its steps, what worked last time, why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gearlog.domain.plan import Plan, PlanInputs
from gearlog.recall import Recall
from gearlog.tui.widgets.lines import BLANK, Line, Tone, heading, paragraph
from gearlog.tui.widgets.lines_view import Page
from gearlog.tui.widgets.plan_state import PlanState
from gearlog.tui.widgets.plan_view import plan_page, steps_page
from gearlog.tui.widgets.plan_why import why_page
from gearlog.tui.widgets.recall_view import RecallPage

if TYPE_CHECKING:
    from gearlog.services.book import Book

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
            return why_page(plan, width)
        drawing = self._book.planner.draw(plan, width)
        return plan_page(plan, drawing, width)

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
        suits = [
            line
            for one in advice
            for line in (
                BLANK,
                *paragraph(f"{'FITS' if one.fits else 'DOES NOT FIT'}  {one.title}", width, tone=Tone.STRONG),
                *paragraph(one.reason, width, first="    "),
            )
        ]
        faults = [line for words in self._book.planner.method_faults() for line in paragraph(words, width, first="! ")]
        return (
            *paragraph(words, width),
            *((*heading("What suits this rope"), *suits) if suits else ()),
            *((*heading("Own method files that do not read"), *faults) if faults else ()),
        )


def _stale(width: int) -> tuple[Line, ...]:
    return (*paragraph(STALE, width, tone=Tone.STOP), BLANK)
