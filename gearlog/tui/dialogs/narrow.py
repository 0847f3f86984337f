"""What the diary shall show only: a small form of filters."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Static

from gearlog.errors import InvalidRecordError
from gearlog.services.forms import Field
from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.keys import bindings
from gearlog.tui.text import content
from gearlog.tui.widgets.form import FormView

FRAME = 6  # lines around the form


class NarrowForm(FormView):
    """The filters; their labels are short."""

    label_width = 14


class NarrowDialog(Dialog[dict[str, str]]):
    """Answers the filters as typed, all of them empty for the whole diary, or None.

    Args:
        fields: the filters.
        start: what they hold now.
        check: raises InvalidRecordError where a filter does not read.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings("dialog", "narrow")
    DEFAULT_CSS = """
    NarrowDialog > Vertical { width: 78; padding: 1 1; }
    NarrowDialog NarrowForm { background: $raised; }
    NarrowDialog .dialog--title { margin-left: 1; }
    NarrowDialog .dialog--keys { margin-left: 1; }
    """

    def __init__(
        self,
        fields: Sequence[Field],
        start: Mapping[str, str],
        check: Callable[[dict[str, str]], object],
    ) -> None:
        super().__init__()
        self.fields = fields
        self.start = start
        self._check = check

    def compose(self) -> ComposeResult:
        """Title, filters, keys."""
        with Vertical():
            yield Static(content("Show only splices like this"), classes="dialog--title")
            yield NarrowForm(self.fields, self.start)
            yield Static(content("ctrl+s: show them    ctrl+n: empty all    esc: back"), classes="dialog--keys")

    def on_mount(self) -> None:
        """Type at once."""
        form = self.query_one(NarrowForm)
        form.styles.height = "auto"
        form.styles.max_height = max(self.size.height - FRAME, 1)
        form.focus_field(self.fields[0].name)

    @on(FormView.Submitted)
    def _take(self, event: FormView.Submitted) -> None:
        try:
            self._check(event.values)
        except InvalidRecordError as error:
            self.query_one(NarrowForm).show_faults(error.faults)
        else:
            self.answer(event.values)

    def action_afresh(self) -> None:
        """Empty all filters."""
        self.query_one(NarrowForm).fill({field.name: "" for field in self.fields})
