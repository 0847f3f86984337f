"""Taking back the last change of the log, once asked, and doing it again: alike on every screen that changes it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gearlog.services.book import Book
    from gearlog.tui.app import GearlogApp


class TakesBack:
    """A screen on which u takes back and U does again."""

    if TYPE_CHECKING:

        @property
        def book(self) -> Book:
            """The log."""

        @property
        def gearlog(self) -> GearlogApp:
            """The app."""

    def renew_if_changed(self) -> None:
        """Redraw when the log is not as it was drawn."""

    def action_undo(self) -> None:
        """Take back the last change of the log, once asked."""
        from gearlog.tui.dialogs.confirm import ConfirmDialog

        last = self.book.last_change()
        if last is None:
            self.gearlog.tell("There is nothing to take back.")
            return
        self.gearlog.push_screen(ConfirmDialog("Take back the last change?", f"It was: {last}"), self._undo)

    def _undo(self, sure: bool | None) -> None:  # noqa: FBT001 (a dialog's answer)
        if sure:
            self._tell_done("Taken back", self.gearlog.attempt(self.book.undo))

    def action_redo(self) -> None:
        """Do again what was taken back last."""
        self._tell_done("Put back", self.gearlog.attempt(self.book.redo))

    def _tell_done(self, words: str, what: str | None) -> None:
        if what is not None:
            self.renew_if_changed()
            self.gearlog.tell(f"{words}: {what}.")
