"""Which list is taken in: its file, and the mapping that was kept of it."""

from __future__ import annotations

from dataclasses import dataclass

from textual import on
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Static

from gearlog.errors import Fault, GearlogError
from gearlog.services.forms import Field
from gearlog.services.importing_choices import Choices
from gearlog.services.importing_files import read_list, read_mapping
from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.text import content
from gearlog.tui.widgets.form import FormView

FIELDS = (
    Field("file", "list", hint="~/old-list.csv", required=True),
    Field("map", "mapping", hint="only where one was kept"),
)
WORDS = (
    "A CSV file or an XLSX workbook. It is only looked at first: each line is shown with what will become of it, and "
    "nothing is saved before you say so."
)


@dataclass(frozen=True)
class ListFile:
    """A list that was read.

    Attributes:
        path: as it was typed.
        name: of the file.
        data: its content.
        choices: what a mapping says, or None.
    """

    path: str
    name: str
    data: bytes
    choices: Choices | None


class ListForm(FormView):
    """The two fields; their labels are short."""

    label_width = 8

    def action_next_field(self) -> None:
        """After the last field comes the looking."""
        if self.focused_field == FIELDS[-1].name:
            self.action_save()
        else:
            super().action_next_field()


class ListDialog(Dialog[ListFile]):
    """Reads the file and answers it; what cannot be read is told under its field."""

    DEFAULT_CSS = """
    ListDialog > Vertical { width: 76; }
    ListDialog FormView { height: auto; max-height: 9; background: $raised; }
    """

    def __init__(self, start: str = "") -> None:
        super().__init__()
        self._start = start

    def compose(self) -> ComposeResult:
        """What happens, the fields, the keys."""
        with Vertical():
            yield Static(content("Take in which list?"), classes="dialog--title")
            yield Static(content(WORDS), classes="dialog--words")
            yield ListForm(FIELDS, {"file": self._start})
            yield Static(content("enter, enter or ctrl+s: look at it    esc: back"), classes="dialog--keys")

    def on_mount(self) -> None:
        """Begin at the file."""
        self.query_one(FormView).focus_field("file")

    @on(FormView.Submitted)
    def _submitted(self, event: FormView.Submitted) -> None:
        event.stop()
        name = "file"
        try:
            found, data = read_list(event.values["file"])
            name = "map"
            choices = read_mapping(event.values["map"]) if event.values["map"].strip() else None
        except GearlogError as error:
            reason, _, way_out = error.message.rpartition("; ")
            self.query_one(FormView).show_faults([Fault(name, reason or error.message, way_out)])
        else:
            self.answer(ListFile(event.values["file"].strip(), found, data, choices))
