"""A form drawn from ``services.forms.Field``s: label left, control right, a fault told under its field.

Use: ``FormView(fields, start, check=..., relevant=...)``. ``values()`` is what is typed, field by field;
``fill(values)`` puts text in without a message; ``show_faults(faults)`` tells them and goes to the first;
``focus_field(name)``; ``offer(name, choices)`` gives a choice other words; ``await rebuild(fields)`` draws other
fields and keeps what was typed. Messages: ``Changed(values, name)`` on every change by the user, ``Submitted(values)``
on ctrl+s. Enter, down and tab go to the next field. The screen that owns the form keeps the draft.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby, takewhile
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, Static, TextArea

from gearlog.errors import Fault
from gearlog.services.forms import Field
from gearlog.tui.keys import bindings
from gearlog.tui.text import content
from gearlog.tui.widgets.controls import WordsControl
from gearlog.tui.widgets.field_row import LABEL_WIDTH, FieldRow
from gearlog.tui.widgets.picking import PickOne, PickSome

Check = Callable[[str, str], str | None]
Relevant = Callable[[str, Mapping[str, str]], bool]


def _no_check(name: str, text: str) -> str | None:
    return None


def _always(name: str, values: Mapping[str, str]) -> bool:
    return True


def _by_field(faults: Iterable[Fault]) -> dict[str, list[Fault]]:
    found: dict[str, list[Fault]] = {}
    for fault in faults:
        found.setdefault(fault.field, []).append(fault)
    return found


def _has_shown_rows(after: Sequence[Widget]) -> bool:
    """Whether any of the fields before the next heading is shown."""
    return any(row.display for row in takewhile(lambda child: isinstance(child, FieldRow), after))


class FormView(VerticalScroll, can_focus=False):
    """The form; it scrolls so that the field in focus is always in view.

    Args:
        fields: what to ask for.
        start: the text each field starts with; names that are no field are kept and handed back.
        check: what is wrong with one field's text, told when the field is left; None when nothing is.
        relevant: whether a field is shown, given the values; a hidden field keeps its text.
    """

    label_width: ClassVar[int] = LABEL_WIDTH
    """Cells for the labels; a form of short labels that stands beside something takes fewer."""
    BINDINGS: ClassVar[list[BindingType]] = bindings("form")
    DEFAULT_CSS = """
    FormView { height: 1fr; scrollbar-size-vertical: 1; background: $ground; }
    FormView > .form--group { color: $accent; text-style: bold; height: 2; padding: 1 2 0 2; }
    FormView > .form--group:first-child { height: 1; padding: 0 2; }
    """

    @dataclass
    class Changed(Message):
        """The user changed a field; ``values`` is the whole form as it stands."""

        form: FormView
        values: dict[str, str]
        name: str

        @property
        def control(self) -> FormView:
            """The form."""
            return self.form

    @dataclass
    class Submitted(Message):
        """The user wants the form saved."""

        form: FormView
        values: dict[str, str]

        @property
        def control(self) -> FormView:
            """The form."""
            return self.form

    def __init__(
        self,
        fields: Sequence[Field],
        start: Mapping[str, str] | None = None,
        *,
        check: Check = _no_check,
        relevant: Relevant = _always,
        id: str | None = None,  # noqa: A002 (the toolkit's word)
    ) -> None:
        super().__init__(id=id)
        self.fields = tuple(fields)
        self._check = check
        self._relevant = relevant
        self._values = {field.name: field.default for field in fields} | dict(start or {})
        self._rows: dict[str, FieldRow] = {}
        self._loose: dict[str, Fault] = {}

    def compose(self) -> ComposeResult:
        """A heading before each group, a row for each field."""
        self._rows = {
            field.name: FieldRow(field, self._values.get(field.name, ""), self.label_width) for field in self.fields
        }
        for group, fields in groupby(self.fields, key=lambda field: field.group):
            if group:
                yield Static(content(group), classes="form--group")
            for field in fields:
                yield self._rows[field.name]

    def on_mount(self) -> None:
        """Hide what does not matter for the values it starts with."""
        self._show_relevant()

    # What the screens call

    def values(self) -> dict[str, str]:
        """What is typed, field by field, also in fields that are hidden now."""
        return self._values | {name: row.control.text for name, row in self._rows.items()}

    def fill(self, values: Mapping[str, str]) -> None:
        """Put text into fields; tells no change."""
        self._values.update(values)
        for name, text in values.items():
            if name in self._rows:
                self._rows[name].control.text = text
                self._rows[name].tell("")
        self._show_relevant()

    def show_faults(self, faults: Iterable[Fault]) -> tuple[Fault, ...]:
        """Tell each fault under its field and go to the first; returns those that belong to no field shown."""
        by_field = _by_field(faults)
        for name, row in self._rows.items():
            row.tell("; ".join(f"{fault.reason}; {fault.way_out}" for fault in by_field.pop(name, ())))
        first = next((name for name, row in self._rows.items() if row.fault and row.display), "")
        if first:
            self.focus_field(first)
        return tuple(fault for faults in by_field.values() for fault in faults)

    def focus_field(self, name: str) -> None:
        """Put the focus on a field and bring it, with its fault, into view."""
        if name in self._rows:
            self._rows[name].control.focus()

    def offer(self, name: str, choices: Sequence[tuple[str, str]]) -> None:
        """Give a field for one of several words other words."""
        control = self._rows[name].control
        if isinstance(control, PickOne):
            control.offer(choices)

    async def rebuild(self, fields: Sequence[Field]) -> None:
        """Draw other fields; what was typed stays, in fields that are gone as well."""
        self._values = self.values()
        self.fields = tuple(fields)
        self._values = {field.name: field.default for field in fields} | self._values
        await self.recompose()
        self._show_relevant()

    @property
    def focused_field(self) -> str:
        """Name of the field in focus, or empty."""
        return next((name for name, row in self._rows.items() if row.control.has_focus), "")

    # How it works

    def _show_relevant(self) -> None:
        values = self.values()
        for name, row in self._rows.items():
            row.display = self._relevant(name, values)
        for heading in self.query(".form--group"):
            heading.display = _has_shown_rows(self.children[self.children.index(heading) + 1 :])

    @on(Input.Changed)
    @on(TextArea.Changed)
    @on(PickOne.Changed)
    @on(PickSome.Changed)
    def _control_changed(self, event: Input.Changed | TextArea.Changed | PickOne.Changed | PickSome.Changed) -> None:
        event.stop()
        row = event.control.parent if event.control is not None else None
        if not isinstance(row, FieldRow) or self._values.get(row.field.name, "") == row.control.text:
            return  # filled by the program, or an echo
        self._values[row.field.name] = row.control.text
        self._show_relevant()
        if row.fault:
            self._recheck(row)
        self.post_message(self.Changed(self, self.values(), row.field.name))

    def _recheck(self, row: FieldRow) -> None:
        text = row.control.text
        row.tell((self._check(row.field.name, text) or "") if text.strip() else "")

    def on_descendant_blur(self, event: events.DescendantBlur) -> None:
        """A field that is left says what is wrong with it."""
        row = event.widget.parent
        if isinstance(row, FieldRow):
            self._recheck(row)

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Bring the whole field with its fault into view."""
        row = event.widget.parent
        if isinstance(row, FieldRow):
            self.call_after_refresh(self.scroll_to_widget, row, animate=False, force=True)

    @on(Input.Submitted)
    def _enter(self, event: Input.Submitted) -> None:
        event.stop()
        self.action_next_field()

    @on(WordsControl.Edge)
    def _edge(self, event: WordsControl.Edge) -> None:
        event.stop()
        self._go(event.step)

    def on_key(self, event: events.Key) -> None:
        """Enter in a field of words to pick goes on as well."""
        if event.key == "enter" and isinstance(self.app.focused, PickOne | PickSome):
            event.stop()
            self.action_next_field()

    def _go(self, step: int) -> None:
        names = [name for name, row in self._rows.items() if row.display]
        here = self.focused_field
        place = names.index(here) + step if here in names else 0
        if 0 <= place < len(names):
            self.focus_field(names[place])

    def action_next_field(self) -> None:
        """Go to the next field; from nowhere to the first."""
        self._go(1)

    def action_previous_field(self) -> None:
        """Go to the field before."""
        self._go(-1)

    def action_save(self) -> None:
        """Ask the screen to save."""
        self.post_message(self.Submitted(self, self.values()))
