"""The bench as it is shown: which splice lies on it, its page, its clock; coming to it and leaving it."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.content import Content

from gearlog.services.bench_drawing import drawn
from gearlog.services.bench_views import BenchView
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.screens.base import MainScreen, Wish
from gearlog.tui.text import content
from gearlog.tui.widgets.bench_head import BenchHead
from gearlog.tui.widgets.bench_page import bench_end, bench_step, bench_steps
from gearlog.tui.widgets.bench_words import away_words, place_words, step_words
from gearlog.tui.widgets.paper import Paper

TICK = 1.0  # seconds between two looks at the clock
MARGINS, LEAST = 5, 30  # cells beside the words; the least to set them in
STEP, STEPS, DRAWING = "step", "steps", "drawing"
PAGES = (STEP, STEPS, DRAWING)
NOTHING = (
    "Nothing is at the bench. Press 4, plan a splice, and press 5 or F6 there: its steps come here one by one, "
    "each with its numbers and its drawing."
)


class BenchDesk(MainScreen):
    """One splice at the bench; which one is remembered, so that it comes back by itself."""

    def __init__(self) -> None:
        super().__init__()
        self._page = STEP

    def parts(self) -> ComposeResult:
        """Head over page."""
        yield BenchHead()
        yield Paper()

    @property
    def keys_place(self) -> str:
        """No keys where there is nothing to do."""
        return self.KEYS if self.view is not None else ""

    @property
    def view(self) -> BenchView | None:
        """The splice shown, or None where nothing is at the bench."""
        views = self.book.bench.open_views()
        chosen = self.gearlog.memory.chosen(self.PLACE)
        return next((view for view in views if view.id == chosen), views[0] if views else None)

    # Coming and going

    def on_mount(self) -> None:
        """The page has the focus, so that it scrolls; the clock is looked at once a second."""
        self.query_one(Paper).focus()
        self.set_interval(TICK, self._tick)

    def on_screen_resume(self, event: events.ScreenResume) -> None:
        """Somebody stands at the bench; what every place does then is done too."""
        self.call_after_refresh(self.enter)

    def enter(self) -> None:
        """Let the clock run and show the step."""
        view = self.view
        if view is not None:
            self.gearlog.memory.choose(self.PLACE, view.id)
            self.gearlog.attempt(lambda: self.book.bench.enter(view.id))
        self.renew()

    def on_screen_suspend(self) -> None:
        """Left for another place, not for a question: what ran is saved."""
        self.call_later(self._leave_if_gone)

    def _leave_if_gone(self) -> None:
        if self.app.current_mode != self.PLACE:
            self.stop_clock()

    def on_unmount(self) -> None:
        """The program ends: what ran is saved."""
        self.stop_clock()

    def stop_clock(self) -> None:
        """What ran is saved; the clock stands until one comes back."""
        view = self.view
        if view is not None:
            self.gearlog.attempt(lambda: self.book.bench.leave(view.id))

    def arrive(self, wish: Wish) -> None:
        """Go on with the splice one came for."""
        if wish.chosen:
            self.stop_clock()
            self.gearlog.memory.choose(self.PLACE, wish.chosen)
            self._page = STEP
        self.enter()

    def to_bench(self) -> None:
        """Choose another splice at the bench."""
        views = self.book.bench.open_views()
        choices = [(view.id, f"{place_words(view)}: {view.plan.method_title}, {step_words(view)}") for view in views]
        if len(choices) > 1:
            chosen = self.gearlog.memory.chosen(self.PLACE)
            other = next(view.id for view in views if view.id != chosen)
            self.app.push_screen(ChooseDialog("Which splice?", choices, other), self._taken)
        else:
            self.gearlog.tell("No other splice is at the bench." if choices else NOTHING)

    def _taken(self, bench_id: str | None) -> None:
        if bench_id:
            self.arrive(Wish(chosen=bench_id))

    # Showing

    def renew(self) -> None:
        """Draw everything from the book anew."""
        self._version = self.book.version
        view = self.view
        self.query_one(BenchHead).show(view)
        self.query_one(Paper).show(self._words(view), top=False)
        self.renew_keys()

    def _words(self, view: BenchView | None) -> Content:
        width = max(self.size.width - MARGINS, LEAST)
        if view is None:
            return content(NOTHING)
        if self._page == STEPS:
            return bench_steps(view, width)
        if self._page == DRAWING:
            return content("\n".join(self.book.planner.draw(view.plan, width)))
        if view.at_end:
            return bench_end(view, width)
        return bench_step(view, drawn(view, width), width, self.query_one(Paper).size.height)

    def _tick(self) -> None:
        if self.app.current_mode == self.PLACE:
            self.query_one(BenchHead).show(self.view)

    def to_top(self) -> None:
        """Read from the first line on."""
        self.query_one(Paper).scroll_home(animate=False)

    def on_resize(self) -> None:
        """Words are set anew for the new size."""
        self.call_after_refresh(self.renew)

    def on_key(self, event: events.Key) -> None:
        """Any key says that somebody is there; time that was not counted is told."""
        view = self.view
        if view is None:
            return
        waited = view.clock == "idle"
        self.book.bench.key(view.id)
        if waited and (words := away_words(self.book.bench.view(view.id))):
            self.gearlog.tell(words, "warning")
