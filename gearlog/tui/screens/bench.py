"""The bench: a splice followed step by step, one step on the screen at a time; every press is saved at once."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.binding import BindingType

from gearlog.domain.splice import Splice
from gearlog.services.bench_views import BenchView
from gearlog.tui.dialogs.confirm import ConfirmDialog
from gearlog.tui.dialogs.measure import MeasureDialog
from gearlog.tui.dialogs.reason import ReasonDialog
from gearlog.tui.keys import bindings
from gearlog.tui.screens import bench_record
from gearlog.tui.screens.bench_desk import PAGES, STEP, BenchDesk
from gearlog.tui.screens.form_screen import FormScreen, Task
from gearlog.tui.widgets.splice_view import end_words


class BenchScreen(BenchDesk):
    """The bench with all that one does there."""

    PLACE = "bench"
    KEYS = "bench"
    CSS_PATH = "bench.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("bench")
    HELP = (
        "One step at a time, from the plan. Space or Enter: the step is done, the next one comes; b goes back one. "
        "m types what the tape said, in your units; it is said at once what a difference means, while it can still be "
        "mended. j jots a remark down at this step. The clock counts each step; h holds it, and when no key is "
        "pressed for three minutes it waits by itself: H counts that time after all. g turns to all steps and to the "
        "drawing. Every press is saved: after a power cut the same step comes back. At the end Enter fills in the "
        "record. X gives the splice up, and keeps what was done. 5 goes to another splice at the bench."
    )

    # Steps

    def _press(self, press: Callable[[BenchView], object]) -> bool:
        """Do something to the splice shown, save it, show what comes of it; False when it was refused."""
        view = self.view
        if view is None or self.gearlog.attempt(lambda: press(view)) is None:
            return False
        self.renew()
        return True

    def _step(self, press: Callable[[BenchView], object]) -> None:
        self._page = STEP
        if self._press(press):
            self.to_top()

    def action_done(self) -> None:
        """The step is done; after the last one, the record."""
        view = self.view
        if view is not None and view.at_end:
            self._record()
        else:
            self._step(lambda view: self.book.bench.done(view.id))

    def action_step_before(self) -> None:
        """One step back."""
        self._step(lambda view: self.book.bench.back(view.id))

    def action_hold(self) -> None:
        """Hold the clock, or let it run again."""
        bench = self.book.bench
        self._press(lambda view: (bench.resume if view.clock == "paused" else bench.pause)(view.id))

    def action_count(self) -> None:
        """Count the time without a key."""
        view = self.view
        if view is not None and view.away_s < 1:
            self.gearlog.tell("Every minute is counted: there was none without a key for long.")
        else:
            self._press(lambda view: self.book.bench.count_away(view.id))

    def action_turn(self) -> None:
        """Turn the page: the step, all steps, the drawing."""
        self._page = PAGES[(PAGES.index(self._page) + 1) % len(PAGES)]
        self.renew()
        self.to_top()

    def action_back(self) -> None:
        """From another page to the step; from the step to Today, where it waits."""
        if self._page != STEP:
            self._page = STEP
            self.renew()
        else:
            self.gearlog.go("today")

    # Measures and remarks

    def action_measure(self) -> None:
        """Type what the tape said."""
        view, bench = self.view, self.book.bench
        if view is None:
            return
        if not view.measurable:
            self.gearlog.tell("There is nothing to measure at this step.")
            return
        dialog = MeasureDialog(view, lambda what, text: bench.measure(view.id, what, text), lambda: bench.view(view.id))
        self.app.push_screen(dialog, lambda _: self.renew())

    def action_jot(self) -> None:
        """Jot a remark down at this step."""
        view = self.view
        if view is not None:
            where = "after the last step" if view.at_end else f"at step {view.number}"
            dialog = ReasonDialog(
                f"Remark {where}", hint="what you want to know next time", start=view.remark, empty=True
            )
            self.app.push_screen(dialog, self._jotted)

    def _jotted(self, text: str | None) -> None:
        if text is not None:
            self._press(lambda view: self.book.bench.remark(view.id, text))

    # The end

    def action_record(self) -> None:
        """Fill in the record; with steps left only when one says so."""
        view = self.view
        if view is None or view.at_end:
            self._record()
            return
        left = view.count - view.number + 1
        question = "Record the splice now?"
        self.app.push_screen(ConfirmDialog(question, f"Steps that are not done: {left}."), self._sure)

    def _sure(self, yes: bool | None) -> None:  # noqa: FBT001 (a dialog's answer)
        if yes:
            self._record()

    def _record(self) -> None:
        view = self.view
        if view is not None:
            self._open(bench_record.record(self.book, view))

    def action_give_up(self) -> None:
        """Give the splice up, with a reason; what was done is kept."""
        view = self.view
        if view is not None:
            self._open(bench_record.give_up(self.book, view))

    def _open(self, task: Task) -> None:
        self.stop_clock()
        self.app.push_screen(FormScreen(task), self._form_done)

    def reopen(self, draft: str) -> None:
        """Open the form that was open when the program was left."""
        view = self.view
        if view is None:
            return
        tasks = (bench_record.record(self.book, view), bench_record.give_up(self.book, view))
        task = next((task for task in tasks if task.draft == draft), None)
        if task is not None:
            self._open(task)

    def _form_done(self, made: Splice | bool | None) -> None:  # noqa: FBT001 (a form's answer)
        if made is None:
            self.enter()
        elif isinstance(made, Splice):
            self.gearlog.go("splices", chosen=made.id)
            tag = self.book.gear.item(made.rope_id).tag
            self.gearlog.tell(f"Recorded: {tag}, {end_words(made)}.")
        else:
            self.enter()
            self.gearlog.tell("Given up. The rope is in no log, so the diary holds nothing of it.")
