"""The frame of all dialogs: a panel over the dimmed screen, one question, its answers by key."""

from __future__ import annotations

from typing import ClassVar, Generic, TypeVar

from textual.binding import BindingType
from textual.screen import ModalScreen

from gearlog.tui.keys import bindings

Answer = TypeVar("Answer")


class Dialog(ModalScreen[Answer], Generic[Answer]):
    """A question; Escape answers None, once."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("dialog")
    DEFAULT_CSS = """
    Dialog {
        align: center middle; background: $ground 60%;
        & > Vertical {
            width: 64; max-width: 100%; height: auto; max-height: 100%;
            background: $raised; color: $ink; padding: 1 2; border-left: thick $accent;
        }
        & .dialog--title { text-style: bold; height: auto; margin-bottom: 1; }
        & .dialog--words { height: auto; margin-bottom: 1; }
        & .dialog--keys { color: $quiet; height: auto; margin-top: 1; }
        & .dialog--fault { color: $bad; height: auto; }
        & Input { background: $ground; color: $ink; }
    }
    """

    def on_screen_resume(self) -> None:
        """A question is read alone: messages give way to it."""
        self.app.clear_notifications()

    def action_back(self) -> None:
        """Leave without an answer."""
        self.answer(None)

    def answer(self, answer: Answer | None) -> None:
        """Close with an answer; a second key in the same moment does nothing."""
        if self.is_current:
            self.dismiss(answer)
