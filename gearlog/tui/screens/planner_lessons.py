"""From the planner to the bench, and from the diary into the plan: its lessons and its corrections."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.screens.bench_start import take_to_bench
from gearlog.tui.screens.learn import LearnScreen
from gearlog.tui.screens.planner_out import PlannerOut

if TYPE_CHECKING:
    from gearlog.services.learning import Suggestion


class PlannerLessons(PlannerOut):
    """The desk with the bench behind it and the diary beside it."""

    def to_bench(self) -> None:
        """Go to the bench with the plan; without a current one to what is unfinished there, or say what is missing."""
        plan = self.state.plan
        if plan is not None and self.state.current:
            take_to_bench(self, plan)
        elif plan is None and self.book.bench.open_views():
            super().to_bench()
        else:
            self.refuse()

    def action_learn(self) -> None:
        """Show what splices like this one teach."""
        if self.gearlog.attempt(lambda: self.book.planner.recall_for(self.form.values())) is not None:
            self.app.push_screen(LearnScreen(self.PLACE, self.form.values, self.adjust))

    def action_adjust(self) -> None:
        """Take an offered correction into the plan, or out of it again."""
        self.adjust(lambda: None)

    def adjust(self, then: Callable[[], None]) -> None:
        """The same, then ``then``; with two corrections it is asked which."""
        found = self.gearlog.attempt(lambda: self.book.learning.suggestions(self.form.values()))
        if found is None:
            return
        movable = [one for one in found if one.movable]
        if len(movable) > 1:
            choices = [(one.of.field, _act(one)) for one in movable]
            start = next((one.of.field for one in movable if not one.taken), choices[0][0])
            dialog = ChooseDialog("Which correction?", choices, start, about=_about(movable))
            self.app.push_screen(dialog, lambda field: self._move(_named(movable, field), then) if field else None)
        else:
            self._move((movable or found)[0], then)

    def _move(self, one: Suggestion, then: Callable[[], None]) -> None:
        form, learning = self.form.values(), self.book.learning
        changed = (
            learning.undone(form, one.of) if one.taken else self.gearlog.attempt(lambda: learning.taken(form, one.of))
        )
        if changed is None:
            return
        self.form.fill(changed)
        self.work_out(changed)
        what = f"The {one.of.name}'s correction"
        told = (
            f"{what} is out of the plan." if one.taken else f"{what} is taken into the plan: {changed[one.of.field]}."
        )
        self.gearlog.tell(f"{told} d takes it {'in again' if one.taken else 'out again'}.")
        then()


def _act(one: Suggestion) -> str:
    """What taking this one does, in a line of the list."""
    if one.taken:
        return f"out of the plan, the {one.of.name}'s: {one.taken.partition(';')[0]}"
    return f"into the plan, the {one.of.name}'s: {one.words.partition(':')[0]}"


def _about(found: Sequence[Suggestion]) -> dict[str, str]:
    return {one.of.field: one.taken or one.words for one in found}


def _named(found: Sequence[Suggestion], field: str) -> Suggestion:
    return next(one for one in found if one.of.field == field)
