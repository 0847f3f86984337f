"""One line at the edge of the screen: what was done, or why it was not."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import Literal, TypeVar

from rich.text import Text

from gearlog.errors import TRACE, GearlogError, InvalidRecordError, own_fault
from gearlog.tui.in_turn import InTurnApp
from gearlog.units.visible import visible

Severity = Literal["information", "warning", "error"]
Answer = TypeVar("Answer")
SHORT, LONG = 4.0, 15.0  # seconds that a message stands; what was refused may be read by one who looked at the rope
LONG_WORDS = 600  # characters of a message; a form tells the whole of it
OWN_FAULT = 3  # what a call ends with where the program itself went wrong


class TellingApp(InTurnApp):
    """An app that says one line at a time."""

    def tell(self, text: str, severity: Severity = "information", *, seconds: float = SHORT) -> None:
        """Say one line at the edge of the screen, in place of the one before; people's text in it stays text."""
        self.clear_notifications()
        lines = "\n".join(visible(line) for line in text.split("\n"))
        self.notify(lines[:LONG_WORDS], severity=severity, markup=False, timeout=seconds)

    def attempt(self, act: Callable[[], Answer]) -> Answer | None:
        """Do something that may be refused; tells the error and gives None when it is."""
        try:
            return act()
        except InvalidRecordError as error:
            self.tell("; ".join(f"{fault.field}: {fault.reason}, {fault.way_out}" for fault in error.faults), "error")
        except GearlogError as error:
            self.refuse(error)
        return None

    def refuse(self, error: GearlogError) -> None:
        """Tell why something was not done."""
        self.tell(f"{error.title}: {error.message}", "error", seconds=LONG)

    def _fatal_error(self) -> None:
        """Leave after a fault of the program's own; a user is told in one line, whoever reports it gets the trace."""
        if self.is_headless or os.environ.get(TRACE) or self._exception is None:
            super()._fatal_error()
            return
        self._return_code = OWN_FAULT
        self.panic(Text(visible(f"gearlog: {own_fault(self._exception)}")))
