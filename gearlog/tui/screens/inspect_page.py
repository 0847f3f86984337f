"""The page of an inspection: its lines, one of them in words, how it stands so far; kept as a draft at each step."""

from __future__ import annotations

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widgets import Static

from gearlog.services.sheet import Sheet
from gearlog.services.views import Card
from gearlog.tui.screens.base import OPEN_FORM, GearlogScreen
from gearlog.tui.screens.inspect_forms import INSPECT
from gearlog.tui.text import content
from gearlog.tui.widgets.asked import Asked, asked_columns, asked_of, line_words
from gearlog.tui.widgets.paper import Paper
from gearlog.tui.widgets.record_list import RecordList
from gearlog.tui.widgets.verdict import TITLES, sum_words

MARGINS = 4  # cells beside the words of a line
WIDE = 100  # columns from which the lines and the words of one stand side by side


class InspectPage(GearlogScreen[object]):
    """What is shown of one inspection under way, without what one does with it."""

    PLACE = "gear"
    KEYS = "inspect"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide")]  # noqa: RUF012 (the toolkit's shape)
    DEFAULT_CSS = """
    InspectPage > .inspect--title { height: auto; padding: 0 2; text-style: bold; margin-top: 1; }
    InspectPage > #sum { height: 2; padding: 0 2; }
    InspectPage #sides { height: 1fr; }
    InspectPage RecordList { width: 1fr; }
    InspectPage.-narrow #sides { layout: vertical; }
    InspectPage.-narrow Paper { height: 11; max-height: 60%; width: 1fr; border-top: solid $line; }
    InspectPage.-wide Paper { width: 1fr; height: 1fr; border-left: solid $line; }
    """

    def __init__(self, card: Card, sheet: Sheet) -> None:
        super().__init__()
        self.item = card.item
        self.sheet = sheet
        self.earlier = card.findings

    @property
    def TOPIC(self) -> str:  # type: ignore[override]  # noqa: N802 (a constant of the other screens)
        """Which kind of inspection it is."""
        return TITLES[self.sheet.kind]

    # The parts

    def parts(self) -> ComposeResult:
        """What is inspected and how it stands, the lines, one of them in words."""
        title = f"{TITLES[self.sheet.kind]}: {self.item.tag}, {self.item.name}"
        yield Static(content(title), classes="inspect--title")
        yield Static(id="sum")
        with Horizontal(id="sides"):
            yield RecordList(asked_columns(), identity=lambda asked: asked.line.key,
                             search=lambda asked: asked.line.look, empty="Nothing is asked of it.",
                             records=asked_of(self.sheet))  # fmt: skip
            yield Paper()

    def on_mount(self) -> None:
        """Begin at the first line without an answer."""
        self.gearlog.memory.choose(OPEN_FORM, self.draft)
        first = self.sheet.unanswered[0] if self.sheet.unanswered else self.sheet.lines[0]
        self.lines.focus()
        self.lines.choose(first.key)
        self._show()

    def on_screen_resume(self) -> None:
        """Back from one of its forms, it is again what is open."""
        self.gearlog.memory.choose(OPEN_FORM, self.draft)

    @property
    def lines(self) -> RecordList[Asked]:
        """The list of lines."""
        return self.query_one(RecordList)

    @property
    def draft(self) -> str:
        """Name under which the half-done sheet is kept."""
        return f"{INSPECT}:{self.item.id}"

    def take(self, sheet: Sheet) -> None:
        """Another state of the sheet; it is kept when anything was answered."""
        self.sheet = sheet
        if sheet.answers or sheet.findings:
            self.gearlog.memory.keep_draft(self.draft, sheet.draft())
        self._show()

    def _show(self) -> None:
        self.lines.show(asked_of(self.sheet))
        self.query_one("#sum", Static).update(sum_words(self.sheet, self.app.size.width - MARGINS))
        self._describe()

    def _describe(self, *, top: bool = False) -> None:
        asked = self.lines.chosen_row
        paper = self.query_one(Paper)
        if asked is not None and paper.size.width:
            paper.show(line_words(self.sheet, asked, self.earlier, max(paper.size.width - MARGINS, MARGINS)), top=top)

    def on_resize(self) -> None:
        """Words are set anew for the new width."""
        self.call_after_refresh(self._show)

    @on(Paper.Widened)
    def _widened(self) -> None:
        self._describe()

    @on(RecordList.Chosen)
    def _chosen(self, event: RecordList.Chosen) -> None:
        """A line under the cursor is seen: its words stand before the inspector."""
        if event.record_id and event.record_id not in self.sheet.seen:
            self.take(self.sheet.see(event.record_id))
        self._describe(top=True)

    @property
    def key(self) -> str:
        """The line under the cursor, or empty."""
        return self.lines.chosen_id
