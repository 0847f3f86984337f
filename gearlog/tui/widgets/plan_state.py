"""The plan behind the planner's form: the last good one, and what keeps the form from making a new one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from gearlog.domain.plan import Plan
from gearlog.errors import Fault, GearlogError, InvalidRecordError
from gearlog.services.planner import Planner
from gearlog.tui.widgets.plan_figures import Figures
from gearlog.tui.widgets.plan_view import LEVEL_WORDS, summary


@dataclass(frozen=True)
class PlanState:
    """What is known after the last change of the form; frozen, so that a page can be made from it at leisure.

    Attributes:
        plan: the last plan that could be worked out, or None.
        faults: what keeps the present form from being planned; empty when ``plan`` is current.
        empty: names of the fields that are needed and still empty.
    """

    plan: Plan | None = None
    faults: tuple[Fault, ...] = ()
    empty: tuple[str, ...] = ()

    def after(self, form: Mapping[str, str], planner: Planner) -> PlanState:
        """The state once the form stands as it does; the last good plan is kept where it cannot be planned."""
        try:
            return PlanState(planner.plan(form))
        except InvalidRecordError as error:
            return self._refused(error.faults, form)
        except GearlogError as error:
            return self._refused((Fault("method", error.message, "choose another method"),), form)

    def _refused(self, faults: tuple[Fault, ...], form: Mapping[str, str]) -> PlanState:
        empty = tuple(fault.field for fault in faults if not form.get(fault.field, "").strip())
        return PlanState(self.plan, faults, empty)

    @property
    def current(self) -> bool:
        """Whether ``plan`` belongs to the form as it stands."""
        return self.plan is not None and not self.faults

    def fault_of(self, name: str) -> str | None:
        """What is wrong with what stands in one field, or None."""
        found = [f"{each.reason}; {each.way_out}" for each in self.faults if each.field == name]
        return "; ".join(found) if found and name not in self.empty else None

    def headline(self, labels: Mapping[str, str]) -> tuple[str, str]:
        """The word for the state and the one line that goes with it."""
        if self.plan is not None and not self.faults:
            return _standing(self.plan)
        word = "NO PLAN YET" if self.plan is None else "NOT CURRENT"
        wrong = [each for each in self.faults if each.field not in self.empty]
        if wrong:
            more = f" (and {len(self.faults) - 1} more)" if len(self.faults) > 1 else ""
            first = wrong[0]
            return word, f"{labels.get(first.field, first.field)} {first.reason}; {first.way_out}{more}"
        return word, "fill " + ", ".join(labels.get(name, name) for name in self.empty)

    def figures(self) -> str:
        """The marks in one line, for where the plan itself has no room."""
        if self.plan is None:
            return ""
        figures = Figures(self.plan)
        marks = "  ".join(f"{mark.letter} {figures.length(mark.shown_m)}" for mark in self.plan.marks)
        return marks if self.current else f"the plan before: {marks}"


def _standing(plan: Plan) -> tuple[str, str]:
    stops = [check.message for check in plan.checks if check.level == "stop"]
    if stops:
        return LEVEL_WORDS["stop"], stops[0]
    return "PLAN", summary(plan)
