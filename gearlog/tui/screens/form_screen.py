"""A whole screen for one form: title, fields, save. Used to add, change and record; its draft outlives the program.

Use: ``app.push_screen(FormScreen(Task(...)), done)``. ``Task.save`` gets the values and stores them; when it raises
InvalidRecordError the faults stand under their fields and nothing typed is lost. Ends with what ``save`` returned, or
None when one went back (the draft is kept and comes back next time).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Static

from gearlog.errors import GearlogError, InvalidRecordError
from gearlog.services.forms import Field
from gearlog.tui.dialogs.confirm import ConfirmDialog
from gearlog.tui.keys import bindings
from gearlog.tui.screens.base import OPEN_FORM, GearlogScreen
from gearlog.tui.text import content
from gearlog.tui.widgets.form import Check, FormView, Relevant


def _no_check(name: str, text: str) -> str | None:
    return None


def _none(values: Mapping[str, str]) -> str:
    return ""


def _always(name: str, values: Mapping[str, str]) -> bool:
    return True


@dataclass(frozen=True, kw_only=True)
class Task:
    """What a form is for.

    Attributes:
        place: the main screen it belongs to, for the top line.
        title: what is done, for example "Add an item".
        fields: what is asked.
        start: the text it starts with when there is no draft.
        draft: name under which an unfinished form is kept, unlike that of every other form.
        save: stores the values and returns the record.
        check: what is wrong with one field's text, or None.
        relevant: whether a field is shown, given the values.
        help: a few sentences for the help.
        told: said under the title, for example which record is changed.
        consequence: what saving these values will do, asked once before it is done; empty asks nothing. Raises
            InvalidRecordError as ``save`` does.
        within: name of the draft that is open behind this form and is opened again, in its place, at the next start.
    """

    place: str
    title: str
    fields: Sequence[Field]
    start: Mapping[str, str]
    draft: str
    save: Callable[[dict[str, str]], Any]
    check: Check = _no_check
    relevant: Relevant = _always
    help: str = "Fill in what you know; what is not known stays empty. Save with ctrl+s; ctrl+u empties a line."
    told: str = ""
    consequence: Callable[[dict[str, str]], str] = _none
    within: str = ""


class FormScreen(GearlogScreen[Any]):
    """The screen of one task; dismissed with the saved record or None."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("form-screen")
    KEYS = "form-screen"
    DEFAULT_CSS = """
    FormScreen > .form-screen--title { height: auto; padding: 1 2 0 2; text-style: bold; }
    FormScreen > .form-screen--told { height: auto; padding: 0 2; margin-bottom: 1; color: $quiet; }
    """

    def __init__(self, job: Task) -> None:
        super().__init__()
        self.job = job

    @property
    def PLACE(self) -> str:  # type: ignore[override]  # noqa: N802 (a constant of the other screens)
        """The main screen it belongs to."""
        return self.job.place

    @property
    def HELP(self) -> str:  # type: ignore[override]  # noqa: N802 (the same)
        """What one does with it."""
        return self.job.help

    @property
    def TOPIC(self) -> str:  # type: ignore[override]  # noqa: N802 (the same)
        """What the task is."""
        return self.job.title

    def parts(self) -> ComposeResult:
        """Title, what is told, the form."""
        draft = self.gearlog.memory.draft(self.job.draft)
        told = [self.job.told, "Not saved yet: this is as you left it. ctrl+n begins afresh." if draft else ""]
        yield Static(content(self.job.title), classes="form-screen--title")
        yield Static(content("  ".join(filter(None, told))), classes="form-screen--told")
        yield FormView(self.job.fields, {**self.job.start, **(draft or {})}, check=self.job.check,
                       relevant=self.job.relevant)  # fmt: skip

    @property
    def form(self) -> FormView:
        """The form."""
        return self.query_one(FormView)

    def on_mount(self) -> None:
        """Begin at the first field; from now on this is the form that is open."""
        self.gearlog.memory.choose(OPEN_FORM, self.job.within or self.job.draft)
        self.form.action_next_field()

    @on(FormView.Changed)
    def _keep(self, event: FormView.Changed) -> None:
        self.gearlog.memory.keep_draft(self.job.draft, event.values)

    @on(FormView.Submitted)
    def _submitted(self, event: FormView.Submitted) -> None:
        if not self.is_current:
            return  # ctrl+s pressed twice: it is saved already, or the question stands
        values = event.values
        words = self._tried(lambda: self.job.consequence(values))
        if words:
            self.app.push_screen(
                ConfirmDialog(f"{self.job.title}?", str(words)), lambda sure: self._save(values) if sure else None
            )
        elif words is not None:
            self._save(values)

    def _save(self, values: dict[str, str]) -> None:
        record = self._tried(lambda: self.job.save(values))
        if record is not None:
            self.gearlog.memory.drop_draft(self.job.draft)
            self._leave(record)

    def _tried(self, act: Callable[[], object]) -> object | None:
        """What ``act`` gives; None when it was refused, which is told under the fields."""
        try:
            return act()
        except InvalidRecordError as error:
            self._refuse(self.form.show_faults(error.faults), len(error.faults))
        except GearlogError as error:
            self.gearlog.refuse(error)
        return None

    def _refuse(self, others: Sequence[object], number: int) -> None:
        faults = "one field is" if number == 1 else f"{number} fields are"
        rest = "; ".join(map(str, others))
        self.gearlog.tell(f"Not saved: {faults} not right yet. {rest}".rstrip(), "error")

    def action_afresh(self) -> None:
        """Put everything back to how the form began."""
        self.gearlog.memory.drop_draft(self.job.draft)
        self.form.fill({field.name: field.default for field in self.job.fields} | dict(self.job.start))
        self.query_one(".form-screen--told", Static).update(content(self.job.told))

    def action_back(self) -> None:
        """Leave; the draft stays."""
        if self.is_current:
            if self.gearlog.memory.draft(self.job.draft) is not None:
                self.gearlog.tell("Kept as you left it, not saved yet.")
            self._leave(None)

    def _leave(self, record: object) -> None:
        self.gearlog.memory.choose(OPEN_FORM, "")
        self.dismiss(record)
