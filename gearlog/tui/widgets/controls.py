"""The controls of a form: a line, several lines, one of a few words, ticks. Each holds text and tells of changes.

All show control signs instead of sending them to the terminal, and keep exactly what was typed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, TypeAlias

from rich.cells import cell_len
from rich.text import Text
from textual import events
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widgets import Input, TextArea

from gearlog.services.forms import Field, FieldKind
from gearlog.tui.text import cell, one_for_one
from gearlog.tui.widgets.picking import PickOne, PickSome
from gearlog.units.visible import visible


def hint_of(field: Field) -> str:
    """What stands in an empty field: whether it is needed, and an example."""
    hint = ", ".join(part for part in ("needed" if field.required else "", field.hint) if part)
    return f"({visible(hint)})" if hint else ""


class LineControl(Input):
    """One line of text.

    Attributes:
        TAKES_LETTERS: whether letters are typed here, so that they run no action.
    """

    TAKES_LETTERS: ClassVar[bool] = True

    DEFAULT_CSS = """
    LineControl {
        background: $raised; color: $ink;
        &:focus { background: $chosen; color: $ink; background-tint: $ink 0%; }
        & > .input--placeholder { color: $quiet; }
        &:nocolor { text-style: underline; }
        &:nocolor > .input--cursor { text-style: reverse; }
    }
    """

    def __init__(self, field: Field, text: str = "") -> None:
        super().__init__(text, compact=True, select_on_focus=False)
        self.cursor_blink = False
        self.show_hint(hint_of(field))

    def show_hint(self, hint: str) -> None:
        """Show a hint while nothing is typed, with a sign at the end where the field is too narrow for it."""
        self._hint = hint
        width = self.content_size.width
        self.placeholder = cell(hint, width) if 0 < width < cell_len(hint) else hint

    def on_resize(self) -> None:
        """Another width cuts the hint elsewhere."""
        self.show_hint(self._hint)

    @property
    def text(self) -> str:
        """What is typed."""
        return self.value

    @text.setter
    def text(self, text: str) -> None:
        self.value = text
        self.cursor_position = len(text)

    @property
    def _value(self) -> Text:
        return Text(one_for_one(self.value), no_wrap=True, overflow="ignore", end="")

    def _on_paste(self, event: events.Paste) -> None:
        """Take all lines of what is pasted, joined, so that nothing is lost."""
        event.stop()
        event.prevent_default()
        self.replace(" ".join(event.text.splitlines()), *sorted(self.selection))


class WordsControl(TextArea):
    """Several lines of text; Tab leaves it, and so does Down on its last line and Up on its first."""

    TAKES_LETTERS: ClassVar[bool] = True
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f6", "app.bench", "Bench", show=False),
        Binding("f7", "app.go('audit')", "Audit", show=False),
    ]

    @dataclass
    class Edge(Message):
        """The cursor would leave the text, up or down."""

        step: int

    DEFAULT_CSS = """
    WordsControl {
        background: $raised; color: $ink; height: 3;
        &:focus { background: $chosen; background-tint: $ink 0%; }
        & .text-area--cursor-line { background: $ground 0%; }
        & .text-area--placeholder { color: $quiet; }
        &:nocolor .text-area--cursor { text-style: reverse; }
    }
    """

    def __init__(self, field: Field, text: str = "") -> None:
        super().__init__(text, compact=True, tab_behavior="focus", show_line_numbers=False,
                         placeholder=visible(field.hint), highlight_cursor_line=False)  # fmt: skip
        self.cursor_blink = False

    def action_cursor_down(self, select: bool = False) -> None:  # noqa: FBT001, FBT002 (the toolkit's)
        """One line down, or out of the field."""
        if self.cursor_at_last_line and not select:
            self.post_message(self.Edge(1))
        else:
            super().action_cursor_down(select)

    def action_cursor_up(self, select: bool = False) -> None:  # noqa: FBT001, FBT002 (the toolkit's)
        """One line up, or out of the field."""
        if self.cursor_at_first_line and not select:
            self.post_message(self.Edge(-1))
        else:
            super().action_cursor_up(select)

    def get_line(self, line_index: int) -> Text:
        """A line as it is drawn: control signs visible."""
        return Text(one_for_one(self.document.get_line(line_index)), end="", no_wrap=True)


Control: TypeAlias = LineControl | WordsControl | PickOne | PickSome
"""What a field is typed in."""


def control_for(field: Field, text: str) -> Control:
    """The control that a field of this kind is typed in, holding ``text``."""
    makers: dict[FieldKind, type[Control]] = {
        FieldKind.CHOICE: PickOne,
        FieldKind.CHOICES: PickSome,
        FieldKind.WORDS: WordsControl,
    }
    return makers.get(field.kind, LineControl)(field, text)
