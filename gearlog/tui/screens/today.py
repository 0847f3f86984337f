"""Today: what asks for attention, most urgent first, then what was spliced last. Enter goes there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Static

from gearlog.domain.vocabulary import label
from gearlog.services.views import GearRow, SpliceRow, Today
from gearlog.tui.keys import bindings
from gearlog.tui.screens.base import MainScreen
from gearlog.tui.text import cell, content
from gearlog.tui.widgets.columns import Column
from gearlog.tui.widgets.record_list import RecordList

MARGINS = 4  # cells beside the words below the list
NOTHING_DUE = "Nothing is due and nothing was spliced lately. Press 2 for the gear, 4 to plan a splice."
NO_GEAR = (
    "The log is empty. Press 2 for the gear, then a, and add the first rope; then p plans a splice on it. Or press 4 "
    "and plan a splice on a rope that you only type."
)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the screen.

    Attributes:
        id: section and record, unlike every other line's.
        place: the screen that Enter goes to; ``record_id`` what it shows there.
        what: in a word, what is up.
        style: how loud the word is.
    """

    id: str
    place: str
    record_id: str
    what: str
    style: str
    tag: str
    name: str
    why: str


class TodayScreen(MainScreen):
    """The first look in the morning."""

    _width = 0
    PLACE = "today"
    KEYS = "today"
    BINDINGS: ClassVar[list[BindingType]] = bindings("today")
    HELP = (
        "What asks for attention today, the most urgent first: overdue or never examined, due within 30 days, in "
        "quarantine, at or near the end of its life; then the last splices. Enter opens what is chosen. Without a "
        "date set at an examination the next one is due after six months: our default, on the safe side."
    )
    DEFAULT_CSS = """
    TodayScreen > #sum { height: auto; padding: 1 2 1 2; }
    TodayScreen > #gaps { height: auto; padding: 1 2 0 2; color: $quiet; }
    """

    def parts(self) -> ComposeResult:
        """The sum in words, the list, what is not on record; filled at once, so that the first picture is whole."""
        today, day = self.book.lists.today(), self.book.today()
        self._version = self.book.version
        yield Static(content(_sum(today, day), "bold"), id="sum")
        yield RecordList(
            _columns(),
            identity=lambda line: line.id,
            search=lambda line: line.name.lower(),
            empty=self._empty(),
            records=tuple(_lines(today, day)),
        )
        yield Static(self._gaps(today), id="gaps")

    def on_mount(self) -> None:
        """The list has the focus, on the line where one left it."""
        lines = self.query_one(RecordList)
        lines.choose(self.gearlog.memory.chosen(self.PLACE))
        lines.focus()

    def renew(self) -> None:
        """Draw everything anew."""
        today, day = self.book.lists.today(), self.book.today()
        lines = self.query_one(RecordList)
        lines.empty = self._empty()
        lines.show(tuple(_lines(today, day)))
        self.query_one("#sum", Static).update(content(_sum(today, day), "bold"))
        self.query_one("#gaps", Static).update(self._gaps(today))

    def _empty(self) -> str:
        return NOTHING_DUE if self.book.gear.rows() else NO_GEAR

    def _gaps(self, today: Today) -> Content:
        if not today.gaps:
            return Content("")
        return content(cell("Not on record: " + "; ".join(today.gaps), max(self.app.size.width - MARGINS, 1)))

    def on_resize(self, event: events.Resize) -> None:
        """The words below are cut anew for the width."""
        if self._width not in (0, event.size.width):
            self.query_one("#gaps", Static).update(self._gaps(self.book.lists.today()))
        self._width = event.size.width

    @on(RecordList.Chosen)
    def _chosen(self, event: RecordList.Chosen) -> None:
        self.gearlog.memory.choose(self.PLACE, event.record_id)

    @on(RecordList.Opened)
    def _opened(self) -> None:
        line: Line | None = self.query_one(RecordList).chosen_row
        if line is not None:
            self.gearlog.go(line.place, chosen=line.record_id)


def _columns() -> Sequence[Column[Line]]:
    return (
        Column("what", "today", lambda line: line.what, 14, style=lambda line: line.style),
        Column("tag", "tag", lambda line: line.tag, 16, needs=96),
        Column("name", "name", lambda line: line.name, 16, share=2),
        Column("why", "", lambda line: line.why, 16, share=3, style=lambda _: "quiet"),
    )


def _lines(today: Today, day: date) -> Iterator[Line]:
    sections = (
        ("overdue", today.overdue, "bad"),
        ("soon", today.due_soon, "warn"),
        ("quarantined", today.quarantined, "warn"),
        ("life", today.near_end_of_life, "warn"),
    )
    told: set[str] = set()
    for section, rows, style in sections:
        for row in rows:
            if row.item.id not in told:
                told.add(row.item.id)
                yield _gear_line(section, row, style, day)
    yield from map(_splice_line, today.last_splices)


def _gear_line(section: str, row: GearRow, style: str, day: date) -> Line:
    words = {"overdue": "OVERDUE", "soon": _in_days(row, day), "quarantined": "quarantined", "life": "end of life"}
    why = row.life_end.reason if section == "life" else row.due.reason.partition(": ")[2] or row.due.reason
    return Line(f"{section}:{row.item.id}", "gear", row.item.id, words[section], style, row.tag, row.name, why)


def _in_days(row: GearRow, day: date) -> str:
    days = (row.due.due_on - day).days if row.due.due_on else 0
    return {0: "due today", 1: "due tomorrow"}.get(days, f"due in {days} days")


def _splice_line(row: SpliceRow) -> Line:
    why = f"end {row.end}, {row.method_title}: {label(row.outcome)}"
    return Line(
        f"splice:{row.splice.id}", "splices", row.splice.id, f"{row.made_on}", "quiet", row.tag, row.rope_name, why
    )


def _sum(today: Today, day: date) -> str:
    counts = (
        (len(today.overdue), "overdue"),
        (len(today.due_soon), "due soon"),
        (len(today.quarantined), "quarantined"),
        (len(today.near_end_of_life), "near end of life"),
    )
    told = [f"{count} {words}" for count, words in counts if count]
    return f"{day.isoformat()}   {', '.join(told) or 'nothing is due'}"
