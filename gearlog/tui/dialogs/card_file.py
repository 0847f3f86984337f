"""Where the bench card goes: its file, what kind of file, the paper."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from textual import on
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Static

from gearlog.errors import Fault, GearlogError
from gearlog.services.forms import Field, FieldKind
from gearlog.services.handing_out import CARD_KINDS, PAPERS, card_path
from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.dialogs.confirm import ConfirmDialog
from gearlog.tui.text import content
from gearlog.tui.widgets.form import FormView

FIELDS = (
    Field("file", "file name", hint="bench-card.pdf", required=True),
    Field("kind", "kind of file", FieldKind.CHOICE, CARD_KINDS, required=True),
    Field("paper", "paper of a PDF", FieldKind.CHOICE, PAPERS, required=True),
)
Write = Callable[[Path, str, str, bool], Path]
"""Writes a card: the file, its kind, the paper, whether a file that is there is replaced; raises GearlogError."""


class CardForm(FormView):
    """The three fields; their labels are short."""

    label_width = 16


class CardDialog(Dialog[Path]):
    """Writes the card and answers where it is; a file that is there is replaced only when one says so."""

    DEFAULT_CSS = """
    CardDialog > Vertical { width: 76; }
    CardDialog FormView { height: auto; max-height: 9; background: $raised; }
    """

    def __init__(self, folder: Path, name: str, paper: str, write: Write, *, stopped: bool) -> None:
        super().__init__()
        self._folder = folder
        self._start = {"file": name, "kind": name.rpartition(".")[2], "paper": paper}
        self._write = write
        self._stopped = stopped

    def compose(self) -> ComposeResult:
        """Where it goes, the fields, the keys."""
        stop = " The plan is STOPPED, and the card says so." if self._stopped else ""
        with Vertical():
            yield Static(content("Write the bench card"), classes="dialog--title")
            yield Static(content(f"It goes to {self._folder}, unless the name tells another folder.{stop}"),
                         classes="dialog--words")  # fmt: skip
            yield CardForm(FIELDS, self._start)
            yield Static(content("ctrl+s: write it    tab: next field    esc: back"), classes="dialog--keys")

    @property
    def form(self) -> FormView:
        """The fields."""
        return self.query_one(FormView)

    def on_mount(self) -> None:
        """Begin at the name."""
        self.form.focus_field("file")

    @on(FormView.Changed)
    def _kind_follows(self, event: FormView.Changed) -> None:
        """The kind follows the ending of the name, and the ending follows the kind."""
        name, kind = event.values["file"], event.values["kind"]
        stem, _, ending = name.rpartition(".")
        kinds = dict(CARD_KINDS)
        if event.name == "kind" and ending.casefold() in kinds and kind:
            self.form.fill({"file": f"{stem}.{kind}"})
        elif event.name == "file" and stem and ending.casefold() in kinds:
            self.form.fill({"kind": ending.casefold()})

    @on(FormView.Submitted)
    def _submitted(self, event: FormView.Submitted) -> None:
        event.stop()
        empty = [name for name in ("file", "kind", "paper") if not event.values[name].strip()]
        if empty:
            self.form.show_faults([Fault(name, "is empty", "fill it in") for name in empty])
            return
        try:
            path = card_path(event.values["file"], self._folder, event.values["kind"])
        except GearlogError as error:
            self._refuse(error)
            return
        if path.exists():
            question = ConfirmDialog("Replace the file that is there?", f"{path} is there already.")
            self.app.push_screen(question, lambda sure: self._try(path, over=True) if sure else None)
        else:
            self._try(path, over=False)

    def _try(self, path: Path, *, over: bool) -> None:
        values = self.form.values()
        try:
            self.answer(self._write(path, values["kind"], values["paper"], over))
        except GearlogError as error:
            self._refuse(error)

    def _refuse(self, error: GearlogError) -> None:
        reason, _, way_out = error.message.rpartition("; ")
        self.form.show_faults([Fault("file", reason or error.message, way_out)])
