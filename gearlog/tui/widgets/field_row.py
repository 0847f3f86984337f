"""One field of a form: its label, its control, and under it what is wrong."""

from __future__ import annotations

from typing import ClassVar

from rich.segment import Segment
from textual.app import ComposeResult
from textual.strip import Strip
from textual.widget import Widget

from gearlog.services.forms import Field
from gearlog.tui.text import cell, wrapped
from gearlog.tui.widgets.controls import control_for

LABEL_WIDTH = 26  # cells: the longest label of the forms
INDENT = 2


class FieldRow(Widget):
    """Draws label and fault itself, so that a form of forty fields stays quick to open."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {"field-row--label", "field-row--here", "field-row--fault"}
    DEFAULT_CSS = """
    FieldRow {
        height: auto; layout: vertical;
        & > .field-row--label { color: $quiet; }
        & > .field-row--here { color: $accent; text-style: bold; }
        & > .field-row--fault { color: $bad; }
    }
    """

    def __init__(self, field: Field, text: str, label_width: int = LABEL_WIDTH) -> None:
        super().__init__()
        self.field = field
        self.control_at = INDENT + label_width + 1
        self.control = control_for(field, text)
        self.fault = ""
        self._make_room()

    def compose(self) -> ComposeResult:
        """The control; the rest is drawn."""
        yield self.control

    def tell(self, fault: str) -> None:
        """Say under the field what is wrong; empty takes it away."""
        if fault != self.fault:
            self.fault = fault
            self._make_room()
            self.refresh()

    def _fault_lines(self) -> tuple[str, ...]:
        if not self.fault:
            return ()
        width = (self.size.width or self.app.size.width) - 2 * INDENT - 2
        return wrapped(f"! {self.fault}", width)

    def _make_room(self) -> None:
        self.control.styles.margin = (0, INDENT, len(self._fault_lines()), self.control_at)

    def on_resize(self) -> None:
        """A narrower form needs more lines for the fault."""
        self._make_room()

    def on_descendant_focus(self) -> None:
        """The label of the field in focus stands out."""
        self.refresh()

    def on_descendant_blur(self) -> None:
        """And no longer does."""
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """Label in the first line, fault in the last ones; the control lies over the rest."""
        faults = self._fault_lines()
        place = y - (self.size.height - len(faults))
        text, style = "", "label"
        if y == 0:
            text, style = self.field.label, "here" if self.control.has_focus else "label"
        elif place >= 0:
            text, style = faults[place], "fault"
        line = " " * INDENT + cell(text, max(self.size.width - 2 * INDENT, 0))
        return Strip([Segment(line, self.get_component_rich_style(f"field-row--{style}"))]).adjust_cell_length(
            self.size.width, self.rich_style
        )
