"""An old list taken in: looked at first, its questions answered, then all of it saved as one change, or nothing."""

from __future__ import annotations

from pathlib import Path
from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.timer import Timer
from textual.widgets import Static

from gearlog.errors import GearlogError
from gearlog.reports.words import plural
from gearlog.services.handing_audits import free_name
from gearlog.services.handing_out import write_out
from gearlog.services.importing import Prepared
from gearlog.services.importing_choices import Choices
from gearlog.services.importing_files import MAPS, mapping_of
from gearlog.services.importing_table import ImportRefusedError
from gearlog.services.importing_views import Fate, Trial
from gearlog.tui.dialogs.confirm import ConfirmDialog
from gearlog.tui.dialogs.file import FileDialog
from gearlog.tui.dialogs.list_file import ListDialog, ListFile
from gearlog.tui.keys import bindings
from gearlog.tui.screens.base import GearlogScreen
from gearlog.tui.screens.import_answers import ImportAnswers
from gearlog.tui.text import content
from gearlog.tui.widgets.import_rows import COLUMNS, QUESTION, about, refused_row, refused_words, rows_of, summary
from gearlog.tui.widgets.prose import joined, prose
from gearlog.tui.widgets.record_list import RecordList

MARGINS = 4  # cells beside the words
DETAIL = 4  # lines below the list, so that nothing moves with the cursor
SUMMED = 3  # lines above it
SOON = 0.5  # seconds, after which it is said that reading goes on
READ = 12.0  # seconds; a path takes long to read
DRAFT = "import"
"""Under this name the list's path is remembered until it is taken in."""


def import_list(screen: GearlogScreen[Any], start: str = "") -> None:
    """Ask for a list, then show what would become of it."""

    def chosen(file: ListFile | None) -> None:
        if file is not None:
            screen.gearlog.memory.keep_draft(DRAFT, {"file": file.path})
            screen.app.push_screen(ImportScreen(file))

    draft = screen.gearlog.memory.draft(DRAFT) or {}
    screen.app.push_screen(ListDialog(start or draft.get("file", "")), chosen)


class ImportScreen(ImportAnswers):
    """The list as it would be taken in."""

    PLACE = "audit"
    KEYS = "import"
    TOPIC = "Import"
    BINDINGS: ClassVar[list[BindingType]] = bindings("import")
    HELP = (
        "A list that was kept elsewhere, before anything of it is saved. First stand the questions that it leaves "
        "open: Enter answers one for all its lines. Then the fate of each line with its number and the reason, those "
        "that cannot be added first: Enter on a line answers for that line alone, or types one of its cells anew. Then "
        "how each column is read: Enter on a column says what it holds. ctrl+s saves "
        "all items as one change, once asked; u on the audit takes it back. Lines that are refused are left out only "
        "when you say so. A list that is taken in twice adds nothing the second time. M keeps your answers in a file, "
        "to be given again with the next list of this kind."
    )
    DEFAULT_CSS = """
    ImportScreen > #sum { height: 5; padding: 1 2; }
    ImportScreen > #detail { height: 6; padding: 1 2; color: $ink; }
    """

    def __init__(self, file: ListFile) -> None:
        super().__init__(file.choices or Choices())
        self.file = file
        self.refusal = ""
        self._prepared: Prepared | None = None
        self._saving = ""  # what is being saved, in words
        self._reading: Timer | None = None  # while what is shown is older than what was said

    def parts(self) -> ComposeResult:
        """The sum, the rows, the whole of one row."""
        yield Static(content(f"{self.file.name}: being read", "bold"), id="sum")
        yield RecordList(COLUMNS, identity=lambda row: row.id, search=lambda row: row.name.lower(),
                         empty="Nothing is shown yet.")  # fmt: skip
        yield Static(id="detail")

    def on_mount(self) -> None:
        """Try it."""
        self.rows.focus()
        self.try_again()

    # Trying

    def try_again(self) -> None:
        """Try the list by what was said so far; in a thread, for a long list is long to read."""
        self._stop_telling()
        self._reading = self.set_timer(SOON, self._tell_reading)
        self.run_worker(self._try, thread=True, exclusive=True, group="import", exit_on_error=False)

    def _tell_reading(self) -> None:
        """Say that it takes its time; what was read quickly does not flicker."""
        self.query_one("#sum", Static).update(content(f"{self.file.name}: being read with what you said ...", "bold"))

    def _stop_telling(self) -> None:
        if self._reading is not None:
            self._reading.stop()
            self._reading = None

    def _try(self) -> None:
        choices = self.choices
        try:
            prepared = self.book.importing.prepared(self.file.data, self.file.name, choices)
        except GearlogError as error:
            self.app.call_from_thread(self._came, choices, None, error)
        else:
            self.app.call_from_thread(self._came, choices, prepared, None)

    def _came(self, choices: Choices, prepared: Prepared | None, error: GearlogError | None) -> None:
        """Show what came of it, unless something else was said meanwhile or one has left."""
        if choices is not self.choices or not self.is_mounted:
            return
        self._stop_telling()
        self._prepared = prepared
        self.trial = trial = prepared.trial if prepared else None
        self.refused = error if isinstance(error, ImportRefusedError) and error.answers else None
        told = refused_words(self.refused) if self.refused else error.message if error else ""
        self.refusal = f"{error.title}: {told}" if error else ""
        if trial is not None:
            open_now = {question.id for question in trial.questions}
            self.answered = {name: one for name, one in self.answered.items() if name not in open_now}
            self.rows.show(rows_of(trial, self.answered, self.choices))
        else:
            self.rows.empty = "Nothing of it was read and nothing was saved. Escape goes back to the audit."
            self.rows.show((refused_row(self.refused),) if self.refused else ())
        self._renew()

    def _renew(self) -> None:
        width = max(self.app.size.width - MARGINS, 1)
        trial = self.trial
        told = f"{self._saving} ..." if self._saving else summary(trial) if trial else self.refusal
        above = prose(told, width, "bold" if trial else "$bad bold")
        below = prose(about(trial), width, "$quiet") if trial else []
        self.query_one("#sum", Static).update(joined([*above, *below][:SUMMED]))
        row = self.rows.chosen_row
        words = prose(f"{row.what} {row.where}: {row.name}: {row.why}", width) if row else []
        if len(words) > DETAIL:
            words = [*words[: DETAIL - 1], content("... the whole of it: gearlog import FILE --dry-run", "$quiet")]
        self.query_one("#detail", Static).update(joined(words))

    def on_resize(self, event: events.Resize) -> None:
        """Words are folded anew for the width."""
        if self.trial or self.refusal:
            self._renew()

    @on(RecordList.Chosen)
    def _chosen(self) -> None:
        self._renew()

    # Saving

    def action_save(self) -> None:
        """Save the items, once asked; refused lines are left out only when one says so."""
        trial = self.trial
        if self._saving:
            self.gearlog.tell(f"{self._saving}; wait for it.")
        elif self._reading is not None:
            self.gearlog.tell("The list is still being read; wait for it.", "warning")
        elif trial is None:
            self.gearlog.tell(self.refusal, "warning")
        elif trial.questions:
            told = plural(len(trial.questions), "question")
            self.gearlog.tell(f"Not saved: {told} to answer first. Enter on one answers it.", "warning")
            self.rows.choose(f"{QUESTION} {trial.questions[0].id}")
        elif not trial.count(Fate.ADD):
            self.gearlog.tell("There is nothing new to save.", "warning")
        else:
            self._confirm(trial)

    def _confirm(self, trial: Trial) -> None:
        refused = trial.count(Fate.REFUSE)
        items = plural(trial.count(Fate.ADD), "item")
        question = f"Add {items} to the log?"
        if refused:
            question = f"Add {items} and leave {plural(refused, 'refused line')} out?"
        words = "It is saved as one change; u on the audit takes all of it back."
        self.app.push_screen(ConfirmDialog(question, words), lambda sure: self._take_in() if sure else None)

    def _take_in(self) -> None:
        """Save it, in a thread, for many items take long to write; nothing can be answered meanwhile."""
        if self._prepared is None or self._saving:
            return
        self._saving = f"{plural(self._prepared.trial.count(Fate.ADD), 'item')} being saved"
        self.rows.disabled = True
        self._renew()
        self.run_worker(self._save, thread=True, exclusive=True, group="import", exit_on_error=False)

    def _save(self) -> None:
        assert self._prepared is not None  # noqa: S101 (asked before the thread began)
        try:
            done = self.book.importing.save(self._prepared, good_lines=True)
        except GearlogError as error:
            self.app.call_from_thread(self._saved, None, error)
        else:
            self.app.call_from_thread(self._saved, done, None)

    def _saved(self, done: Trial | None, error: GearlogError | None) -> None:
        self._saving = ""
        if done is not None:
            self.gearlog.memory.drop_draft(DRAFT)
            told = f"{plural(done.imported, 'item')} of {done.file} added. u takes all of it back as one step."
            if self.is_mounted:
                self.dismiss(None)
            self.gearlog.tell(told, seconds=READ)
        elif error is not None:
            self.gearlog.tell(f"{error.title}: {error.message}", "error")
            if self.is_mounted:
                self.rows.disabled = False
                self.rows.focus()
                self._renew()

    def action_mapping(self) -> None:
        """Keep columns and answers in a file."""
        trial = self.trial
        if trial is None:
            self.gearlog.tell("There is no mapping of a list that was not read.", "warning")
            return
        folder = self.book.folder / MAPS if self.book.folder is not None else Path.cwd()
        data = mapping_of(trial, self.choices)
        dialog = FileDialog[Path](
            "Keep the mapping", "How the columns are read and what you answered, as plain text.", folder,
            free_name(Path(self.file.name).stem, folder, "toml"),
            lambda path, over: write_out(path, data, over=over),
        )  # fmt: skip
        self.app.push_screen(
            dialog, lambda path: self.gearlog.tell(f"Written: {path}", seconds=READ) if path is not None else None
        )

    def action_back(self) -> None:
        """Back to the audit; nothing is saved."""
        if self._saving:
            self.gearlog.tell(f"{self._saving}; wait for it.")
        elif self.is_current:
            self.dismiss(None)
