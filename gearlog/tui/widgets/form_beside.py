"""A form that stands beside a page and scrolls it, so that one types and reads without changing places."""

from __future__ import annotations

from dataclasses import dataclass

from textual.message import Message

from gearlog.tui.widgets.form import FormView


class FormBeside(FormView):
    """The form; the page beside it is scrolled from here."""

    label_width = 20

    @dataclass
    class Beside(Message):
        """The page beside the form is to be scrolled, -1 up or 1 down."""

        step: int

    def action_beside(self, step: int) -> None:
        """Ask the screen to scroll the page beside the form."""
        self.post_message(self.Beside(step))
