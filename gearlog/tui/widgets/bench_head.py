"""The three lines over a step at the bench: its number in big figures, what is made where, and the clock."""

from __future__ import annotations

from textual.content import Content
from textual.widget import Widget

from gearlog.services.bench_views import BenchView
from gearlog.tui.text import cell
from gearlog.tui.widgets.bench_words import clock_words, place_words, spent, step_words
from gearlog.tui.widgets.big import ROWS, big

EDGE = 2  # cells free at both sides
NUMBER = 9  # cells for two big figures and the room behind them


class BenchHead(Widget):
    """Always three lines, so that nothing jumps; ``show`` brings it up to date, once a second for the clock."""

    DEFAULT_CSS = "BenchHead { height: 4; color: $ink; }"

    def __init__(self) -> None:
        super().__init__()
        self.view: BenchView | None = None

    def show(self, view: BenchView | None) -> None:
        """Draw another view; None is nothing at the bench."""
        self.view = view
        self.refresh()

    def render(self) -> Content:
        """Number at the left, three lines of words beside it."""
        view = self.view
        if view is None:
            return Content("")
        number = big(str(view.number)) if not view.at_end else (" ",) * ROWS
        lead = max(NUMBER, len(number[0]) + EDGE) if not view.at_end else 0
        room = max(self.size.width - 2 * EDGE - lead, 0)
        lines = (
            Content.styled(cell(_beside(step_words(view), place_words(view), room), room), "bold"),
            Content(cell(view.plan.method_title, room)),
            _clock(view, room),
        )
        return Content("\n").join(
            Content.assemble(" " * EDGE, (f"{row:<{lead}}" if lead else "", "$accent bold"), line)
            for row, line in zip(number, lines, strict=True)
        )


def _beside(left: str, right: str, room: int) -> str:
    """Two texts with as much room between as there is, three spaces at least."""
    return f"{left}   {cell(right, max(room - len(left) - 3, 1), right=True)}"


def _clock(view: BenchView, room: int) -> Content:
    times = f"in all {spent(view.total_s)}" if view.at_end else f"{spent(view.step_s)}, in all {spent(view.total_s)}"
    loud = view.clock in {"paused", "idle"} and not view.at_end
    return Content.styled(cell(_beside(clock_words(view), times, room), room), "$warn bold" if loud else "$quiet")
