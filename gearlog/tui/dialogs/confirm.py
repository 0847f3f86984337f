"""A yes-or-no question that starts on No."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget
from textual.widgets import Static

from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.text import content


class _YesNo(Widget, can_focus=True):
    DEFAULT_CSS = "_YesNo { height: 1; }"
    yes: reactive[bool] = reactive(default=False)

    def render(self) -> Content:
        return Content("   ").join(
            Content.styled(f"> {words} <" if chosen else f"  {words}  ", "bold reverse" if chosen else "")
            for words, chosen in (("No", not self.yes), ("Yes", self.yes))
        )


class ConfirmDialog(Dialog[bool]):
    """Asks once before something is done that could be missed; answers True only for Yes."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *Dialog.BINDINGS,
        ("left,right,tab,shift+tab", "turn", "Yes or No"),
        ("y", "say(True)", "Yes"),
        ("n", "say(False)", "No"),
        ("enter", "take", "take the answer"),
    ]

    def __init__(self, question: str, words: str = "") -> None:
        super().__init__()
        self.question = question
        self.words = words

    def compose(self) -> ComposeResult:
        """Question, words, answers."""
        with Vertical():
            yield Static(content(self.question), classes="dialog--title")
            if self.words:
                yield Static(content(self.words), classes="dialog--words")
            yield _YesNo()
            yield Static(content("left, right: choose    enter: take it    y, n    esc: no"), classes="dialog--keys")

    def action_turn(self) -> None:
        """The other answer."""
        answer = self.query_one(_YesNo)
        answer.yes = not answer.yes

    def action_say(self, yes: bool) -> None:  # noqa: FBT001 (an action's argument)
        """Answer by a letter."""
        self.answer(yes)

    def action_take(self) -> None:
        """Answer what is marked."""
        self.answer(self.query_one(_YesNo).yes)
