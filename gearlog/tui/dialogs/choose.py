"""One of a list, by typing some of its letters or by moving to it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from gearlog.services.forms import Field
from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.keys import bindings
from gearlog.tui.text import content
from gearlog.tui.widgets.columns import Column
from gearlog.tui.widgets.controls import LineControl
from gearlog.tui.widgets.record_list import RecordList

Choice = tuple[str, str]
LEAST, MOST = 3, 12  # lines of the list
NARROW, WIDE, FRAME = 64, 96, 12  # cells of the dialog; what it needs beside the words
FRAMED = 9  # lines of the dialog beside its list
ABOUT = 3  # lines for what is told of the choice under the cursor


class ChooseDialog(Dialog[str]):
    """Answers the value of the choice taken, or None.

    Args:
        title: what is chosen.
        choices: (value, words) pairs; values are unlike one another.
        chosen: the value to start on.
        about: what is told below the list of the choice under the cursor, by its value.
        typed: what the line starts with.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings("dialog", "choose")
    DEFAULT_CSS = """
    ChooseDialog RecordList { background: $raised; }
    ChooseDialog .choose--about { height: 3; color: $quiet; margin-top: 1; }
    """

    def __init__(
        self,
        title: str,
        choices: Sequence[Choice],
        chosen: str = "",
        *,
        about: Mapping[str, str] | None = None,
        typed: str = "",
    ) -> None:
        super().__init__()
        self.heading = title
        self.choices = tuple(choices)
        self.chosen = chosen
        self.about = about or {}
        self.typed = typed

    def compose(self) -> ComposeResult:
        """The line to type in over the list."""
        with Vertical():
            yield Static(content(self.heading), classes="dialog--title")
            yield LineControl(Field("filter", "filter", hint="type some letters, or move with up and down"), self.typed)
            yield RecordList(
                [Column[Choice]("words", "", lambda choice: choice[1], 20, share=1)],
                identity=lambda choice: f"={choice[0]}",
                search=lambda choice: choice[1].lower() if choice[0] else "",  # letters mean one of the words, not none
                empty="There is nothing to choose from.",
            )
            if self.about:
                yield Static(classes="choose--about")
            yield Static(content("enter: take it    esc: back"), classes="dialog--keys")

    def on_mount(self) -> None:
        """Typing narrows; the list is moved from the line."""
        choices = self.query_one(RecordList)
        choices.can_focus = False
        longest = max((len(words) for _, words in self.choices), default=0)
        self.query_one(Vertical).styles.width = max(NARROW, min(longest + FRAME, WIDE))
        room = self.size.height - FRAMED - (ABOUT + 1 if self.about else 0)
        choices.styles.height = max(LEAST, min(len(self.choices), MOST, room)) + 1
        choices.show(self.choices)
        choices.choose(f"={self.chosen}")
        line = self.query_one(LineControl)
        line.text = self.typed
        line.focus()

    def type_more(self, text: str) -> None:
        """Take letters that were typed before the line had the keys; none is lost and their order stays."""
        self.typed += text
        for line in self.query(LineControl):
            line.text += text

    def on_key(self, event: events.Key) -> None:
        """A letter that comes before the line has the focus is typed all the same."""
        if event.character and event.is_printable and not isinstance(self.focused, LineControl):
            event.stop()
            self.type_more(event.character)

    @on(Input.Changed)
    def _filter(self, event: Input.Changed) -> None:
        choices, text = self.query_one(RecordList), event.value.strip().casefold()
        choices.filter(event.value)
        choices.choose(f"={self.meant(text)}")

    def meant(self, text: str) -> str:
        """The value that Enter should take after ``text``: just this one, else where words begin so, else the first.

        Of several that are as likely, the one that the dialog started on stays.
        """
        if not text:
            return self.chosen
        exact = self.exact(text)
        if exact is not None:
            return exact
        wanted = text.split()
        likely = [(_rank(words.casefold(), text), value) for value, words in self.choices
                  if value and all(part in words.casefold() for part in wanted)]  # fmt: skip
        best = [value for rank, value in likely if rank == min(rank for rank, _ in likely)]
        return self.chosen if self.chosen in best else next(iter(best), "")

    def exact(self, text: str) -> str | None:
        """The value that is meant by just this text, whatever else it is found in; None where there is none."""
        return next((value for value, _ in self.choices if value.casefold() == text and value), None)

    @on(RecordList.Chosen)
    def _tell_about(self, event: RecordList.Chosen) -> None:
        for static in self.query(".choose--about").results(Static):
            static.update(content(self.about.get(event.record_id[1:], "")))

    @on(Input.Submitted)
    @on(RecordList.Opened)
    def _take(self) -> None:
        value = self.value
        if value is not None:
            self.answer(value)

    @property
    def value(self) -> str | None:
        """What Enter takes now, or None."""
        chosen = self.query_one(RecordList).chosen_id
        return chosen[1:] if chosen else None

    def action_row(self, step: int) -> None:
        """Move in the list."""
        for choices in self.query(RecordList):  # none before the dialog is drawn: a key may come that early
            choices.action_row(step)


def _rank(words: str, text: str) -> int:
    """How likely words are meant by what was typed: 0 they begin so, 1 one of them does, 2 it stands somewhere."""
    if words.startswith(text):
        return 0
    return 1 if any(word.startswith(text) for word in words.split()) else 2
