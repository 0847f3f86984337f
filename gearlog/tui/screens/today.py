"""Today: what asks for attention, most urgent first, then what was spliced last. Enter goes there."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Static

from gearlog.tui.keys import bindings
from gearlog.tui.screens.base import MainScreen
from gearlog.tui.text import content
from gearlog.tui.widgets.columns import Column
from gearlog.tui.widgets.prose import joined, prose
from gearlog.tui.widgets.record_list import RecordList
from gearlog.tui.widgets.today_lines import Line, lines_of, sum_of

MARGINS = 4  # cells beside the words below the list
DETAIL = 3  # lines below the list, so that nothing moves with the cursor
NOTHING_DUE = "Nothing is due and nothing was spliced lately. Press 2 for the gear, 4 to plan a splice."
NO_GEAR = (
    "The log is empty. Press 2 for the gear, then a, and add the first rope; then p plans a splice on it. Or press 4 "
    "and plan a splice on a rope that you only type."
)


class TodayScreen(MainScreen):
    """The first look in the morning."""

    PLACE = "today"
    KEYS = "today"
    BINDINGS: ClassVar[list[BindingType]] = bindings("today")
    HELP = (
        "What asks for attention today, the most urgent first: overdue or never examined, due within 30 days, in "
        "quarantine, at or near the end of its life, retired and not yet cut up; what is unfinished at the bench; what "
        "is not on record; then the last splices. Below stands the whole reason of the line under the cursor, and the "
        "rule behind it. Enter goes there, i inspects it at once. Without a rule set of your region and without a date "
        "set at an examination the next one is due after six months: our default, on the safe side."
    )
    DEFAULT_CSS = """
    TodayScreen > #sum { height: auto; padding: 1 2 1 2; }
    TodayScreen > #detail { height: 5; padding: 1 2 1 2; color: $ink; }
    """

    def parts(self) -> ComposeResult:
        """The sum in words, the list, the reason of one line; filled at once, so that the first picture is whole."""
        words, lines = self._gathered()
        self._version = self.book.version
        yield Static(content(words, "bold"), id="sum")
        yield RecordList(
            _columns(),
            identity=lambda line: line.id,
            search=lambda line: line.name.lower(),
            empty=self._empty(),
            records=lines,
        )
        yield Static(id="detail")

    def _gathered(self) -> tuple[str, tuple[Line, ...]]:
        """The sum and the lines."""
        today, benches, day = self.book.lists.today(), self.book.bench.open_views(), self.book.today()
        return sum_of(today, benches, day), tuple(lines_of(today, benches, day))

    @property
    def lines(self) -> RecordList[Line]:
        """The list."""
        return self.query_one(RecordList)

    def on_mount(self) -> None:
        """The list has the focus, on the line where one left it."""
        self.lines.choose(self.gearlog.memory.chosen(self.PLACE))
        self.lines.focus()
        self._detail()

    def renew(self) -> None:
        """Draw everything anew."""
        words, lines = self._gathered()
        self.lines.empty = self._empty()
        self.lines.show(lines)
        self.query_one("#sum", Static).update(content(words, "bold"))
        self._detail()

    def _empty(self) -> str:
        return NOTHING_DUE if self.book.gear.rows() else NO_GEAR

    def _detail(self) -> None:
        line = self.lines.chosen_row
        words = prose(line.detail, max(self.app.size.width - MARGINS, 1)) if line is not None else [Content("")]
        self.query_one("#detail", Static).update(joined(words[:DETAIL]))

    def on_resize(self, event: events.Resize) -> None:
        """The words below are folded anew for the width."""
        self._detail()

    @on(RecordList.Chosen)
    def _chosen(self, event: RecordList.Chosen) -> None:
        self.gearlog.memory.choose(self.PLACE, event.record_id)
        self._detail()

    @on(RecordList.Opened)
    def _opened(self) -> None:
        line = self.lines.chosen_row
        if line is not None:
            self.gearlog.go(line.place, chosen=line.record_id, form=line.narrow or None)

    def action_inspect(self) -> None:
        """Inspect the item of this line."""
        line = self.lines.chosen_row
        if line is None or line.place != "gear" or not line.record_id:
            self.gearlog.tell("This line is about no single item.", "warning")
        else:
            self.gearlog.go("gear", chosen=line.record_id, form={"inspect": line.record_id})

    def action_kits(self) -> None:
        """Show the kits."""
        from gearlog.tui.screens.kits import KitsScreen

        self.app.push_screen(KitsScreen())

    def action_rules(self) -> None:
        """Say who you are and which rules hold."""
        from gearlog.tui.screens.form_screen import FormScreen
        from gearlog.tui.screens.you import you_task

        self.app.push_screen(FormScreen(you_task(self.book, self.PLACE)), lambda kept: self.renew() if kept else None)


def _columns() -> Sequence[Column[Line]]:
    return (
        Column("what", "today", lambda line: line.what, 14, style=lambda line: line.style),
        Column("tag", "tag", lambda line: line.tag, 16, needs=96),
        Column("name", "name", lambda line: line.name, 16, share=2),
        Column("why", "why", lambda line: line.why, 16, share=3, style=lambda _: "quiet"),
    )
