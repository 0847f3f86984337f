"""From the planner to the bench, and from the diary into the plan: its lessons and its correction of the eye."""

from __future__ import annotations

from gearlog.services.correcting import FIELD
from gearlog.tui.screens.bench_start import take_to_bench
from gearlog.tui.screens.learn import LearnScreen
from gearlog.tui.screens.planner_out import PlannerOut


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
            self.app.push_screen(LearnScreen(self.PLACE, self.form.values, self.action_adjust))

    def action_adjust(self) -> None:
        """Take the offered correction of the eye into the plan, or out of it again."""
        form, learning = self.form.values(), self.book.learning
        taken = bool(form.get(FIELD))
        changed = learning.undone(form) if taken else self.gearlog.attempt(lambda: learning.taken(form))
        if changed is None:
            return
        self.form.fill(changed)
        self.work_out(changed)
        told = "The correction is out of the plan." if taken else f"Taken into the plan: {changed[FIELD]}."
        self.gearlog.tell(f"{told} d takes it {'in again' if taken else 'out again'}.")
