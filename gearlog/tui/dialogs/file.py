"""Where a file goes: its name, and whether one that is there is replaced."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import ClassVar, Generic, TypeVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from gearlog.errors import GearlogError
from gearlog.services.forms import Field
from gearlog.services.handing_out import card_path
from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.dialogs.confirm import ConfirmDialog
from gearlog.tui.keys import bindings
from gearlog.tui.text import content
from gearlog.tui.widgets.controls import LineControl

Done = TypeVar("Done")
Write = Callable[[Path, bool], Done]
"""Writes the file; whether one that is there is replaced; raises GearlogError."""


class FileDialog(Dialog[Done], Generic[Done]):
    """Asks for a name, writes, and answers what the writing gave; a refusal is told and the name can be mended.

    Args:
        title: what is written.
        words: what is told of it.
        folder: where it goes, unless the name tells another folder.
        name: the name to start with; its ending is that of the file.
        write: writes it.
        others: endings that mean another kind of file, so that such a name is a slip.
    """

    SLOW: ClassVar[bool] = False
    """Whether the writing may take long and touches nothing of the screens, so that it is done in a thread."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("dialog", "file")
    DEFAULT_CSS = "FileDialog > Vertical { width: 76; }"

    def __init__(
        self, title: str, words: str, folder: Path, name: str, write: Write[Done], *, others: tuple[str, ...] = ()
    ) -> None:
        super().__init__()
        self.heading = title
        self.words = words
        self._folder = folder
        self._start = name
        self._ending = name.rpartition(".")[2]
        self._write = write
        self._others = others
        self._writing = False

    def compose(self) -> ComposeResult:
        """What is written, where, the name, what is wrong with it."""
        with Vertical():
            yield Static(content(self.heading), classes="dialog--title")
            where = f"It goes to {self._folder}, unless the name tells another folder."
            yield Static(content(f"{self.words}\n\n{where}" if self.words else where), classes="dialog--words")
            yield LineControl(Field("file", "file name", hint=self._start), self._start)
            yield Static(classes="dialog--fault")
            yield Static(content("enter or ctrl+s: write it    esc: back"), classes="dialog--keys")

    def on_mount(self) -> None:
        """The name can be changed at once."""
        line = self.query_one(LineControl)
        line.focus()
        line.cursor_position = len(self._start)

    @on(Input.Submitted)
    def _submitted(self) -> None:
        self.action_save()

    def action_save(self) -> None:
        """Write it; a file that is there only when one says so."""
        if self._writing:
            return
        typed = self.query_one(LineControl).value
        try:
            path = self._meant(typed)
            there = path.exists()
        except (GearlogError, OSError, ValueError) as error:
            self._refuse(getattr(error, "message", "") or f"{error}; type another name")
            return
        if there:
            question = ConfirmDialog("Replace the file that is there?", f"{path} is there already.")
            self.app.push_screen(question, lambda sure: self._try(path, over=True) if sure else None)
        else:
            self._try(path, over=False)

    def _meant(self, typed: str) -> Path:
        if not typed.strip():
            raise GearlogError("a file needs a name; type one")
        ending = Path(typed.strip()).suffix.removeprefix(".").casefold()
        if ending in self._others and ending != self._ending:
            raise GearlogError(f"this writes .{self._ending}, not .{ending}; choose that format first, or rename it")
        return card_path(typed, self._folder, self._ending)

    def _try(self, path: Path, *, over: bool) -> None:
        if self.SLOW:
            self._writing = True
            self._tell(f"{path.name} is being written; wait for it")
            self.run_worker(partial(self._write_beside, path, over), thread=True, exit_on_error=False)
            return
        try:
            self.answer(self._write(path, over))
        except GearlogError as error:
            self._refuse(error.message)

    def _write_beside(self, path: Path, over: bool) -> None:  # noqa: FBT001 (as it is handed on)
        """In a thread."""
        try:
            done = self._write(path, over)
        except GearlogError as error:
            self.app.call_from_thread(self._refuse, error.message)
        else:
            self.app.call_from_thread(self._written, done)

    def _written(self, done: Done) -> None:
        self._writing = False
        self.answer(done)

    def action_back(self) -> None:
        """Leave without an answer, unless it is being written."""
        if not self._writing:
            super().action_back()

    def _refuse(self, message: str) -> None:
        self._writing = False
        self._tell(f"! {message}")

    def _tell(self, words: str) -> None:
        self.query_one(".dialog--fault", Static).update(content(words))


class SlowFileDialog(FileDialog[Done]):
    """The same for what takes long: it is said that it is being written, and the dialog waits for it."""

    SLOW = True
