"""A past day to look at: typed as a date; empty is today."""

from __future__ import annotations

from datetime import date

from textual import on
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Input, Static

from gearlog.domain.dates import PartialDate
from gearlog.errors import GearlogError, ReadingError
from gearlog.services.forms import Field
from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.text import content
from gearlog.tui.widgets.controls import LineControl

WORDS = (
    "The list and the cards are shown as they stood at the end of that day, as it is known now: status, places, what "
    "was due. Names, data of items and rule sets are those of today. Of a month or a year its last day is taken. "
    "Nothing can be changed there."
)


class DayDialog(Dialog[str]):
    """Answers the day as ``2024-05-31``, an empty text for today, or None; a day that has not come is refused."""

    def __init__(self, today: date, start: str = "") -> None:
        super().__init__()
        self.today = today
        self.start = start

    def compose(self) -> ComposeResult:
        """What it is for, the line, what is wrong with it."""
        with Vertical():
            yield Static(content("As of which day?"), classes="dialog--title")
            yield Static(content(WORDS), classes="dialog--words")
            yield LineControl(Field("day", "day", hint="2024-05-31, 2024-05 or 2024; empty is today"), self.start)
            yield Static(classes="dialog--fault")
            yield Static(content("enter: show it    ctrl+u: empty the line    esc: back"), classes="dialog--keys")

    def on_mount(self) -> None:
        """Type at once."""
        self.query_one(LineControl).focus()

    @on(Input.Submitted)
    def _take(self, event: Input.Submitted) -> None:
        try:
            self.answer(past_day(event.value, self.today))
        except GearlogError as error:
            self.query_one(".dialog--fault", Static).update(content(f"! {error.message}"))


def past_day(typed: str, today: date) -> str:
    """The last day that a typed date can mean, not after today; empty for today. Raises GearlogError."""
    if not typed.strip():
        return ""
    day = PartialDate.read(typed)
    if day.earliest() > today:
        raise ReadingError(f"{day} has not come yet; type a past day")
    last = min(day.latest(), today)
    return "" if last == today else last.isoformat()
