"""Why the numbers of one line are what they are, over the plan they stand in."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Static

from gearlog.domain.explained import Explained
from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.text import content
from gearlog.tui.widgets.lines_view import LinesView
from gearlog.tui.widgets.plan_why import why_lines

WIDE = 84  # cells; formulas with their values are long
BESIDE = 7  # lines of the dialog beside the explanation
EDGES = 6  # cells of the dialog beside the words


class ExplainDialog(Dialog[None]):
    """Formula, values put in, inputs and source of each number of a line; it scrolls when there are many."""

    DEFAULT_CSS = """
    ExplainDialog > Vertical { width: 84; }
    ExplainDialog LinesView { background: $raised; height: auto; }
    """

    def __init__(self, explained: Sequence[Explained], key: str) -> None:
        super().__init__()
        self._explained = tuple(explained)
        self._key = key

    def compose(self) -> ComposeResult:
        """Title, the explanation, the keys."""
        with Vertical():
            yield Static(content("Why"), classes="dialog--title")
            yield LinesView()
            yield Static(content("up, down: scroll    esc: back to the plan"), classes="dialog--keys")

    def on_mount(self) -> None:
        """As high as it needs, as far as there is room."""
        view = self.query_one(LinesView)
        width = min(WIDE, self.size.width) - EDGES
        lines = why_lines(self._explained, self._key, width)
        view.styles.height = max(1, min(len(lines), self.size.height - BESIDE))
        view.show(lambda room: why_lines(self._explained, self._key, room), from_top=True)
        view.focus()
