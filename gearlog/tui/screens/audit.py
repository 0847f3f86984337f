"""The audit: what an examiner is handed, written once it was looked at; labels, backup, and old lists taken in."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.binding import BindingType

from gearlog.errors import GearlogError
from gearlog.reports.words import plural
from gearlog.services.auditing_forms import FORMATS
from gearlog.services.auditing_reports import thorough
from gearlog.services.handing_audits import audit_name, audits_folder, backup_folder, backup_name, labels_name
from gearlog.services.handing_out import write_out
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.dialogs.file import SlowFileDialog, Write
from gearlog.tui.keys import bindings
from gearlog.tui.screens.audit_desk import AuditDesk
from gearlog.tui.screens.report import report_on
from gearlog.tui.widgets.audit_page import AuditPage
from gearlog.tui.widgets.form import FormView

if TYPE_CHECKING:
    from gearlog.domain.audited import Audit
    from gearlog.domain.verified import Verified
    from gearlog.services.auditing_forms import Wanted

READ = 12.0  # seconds; a path takes long to read


class AuditScreen(AuditDesk):
    """The desk, with the ways out of it."""

    PLACE = "audit"
    KEYS = "audit"
    BINDINGS: ClassVar[list[BindingType]] = bindings("audit")
    DEFAULT_CSS = """
    AuditScreen {
        & #sides { height: 1fr; }
        & LinesView { width: 1fr; height: 1fr; padding: 1 1 0 2; background: $ground; }
        & AuditForm { padding-top: 1; }
        &.-wide #sides { layout: horizontal; }
        &.-wide AuditForm { width: 54; border-right: solid $line; }
        &.-narrow AuditForm { display: none; height: auto; max-height: 12; }
        &.-narrow.-typing AuditForm { display: block; border-bottom: solid $line; }
    }
    """
    HELP = (
        "What is handed to an examiner. The page shows what will be written before it is: how many items, what is "
        "missing of their records, what is overdue, in quarantine or left use since the last audit, a digest by which "
        "two lists can be compared, and the register. g or ctrl+g goes to the fields and back: the day, the last "
        "audit, which items, format and paper; space sets a tick. The day of the last audit is that of the last one "
        "that you wrote, unless you type another. Page up and page down scroll the page from there "
        "too. ctrl+s asks for the name of the file and writes it. T writes a sheet of labels for the same items, each "
        "with a QR code of its tag. E writes the report of one thorough examination, with the particulars that the law "
        "asks. I takes in a list that you kept elsewhere: every line is shown with what will "
        "become of it before one is saved. B puts the whole log, photos included, into one file."
    )

    # Writing

    @on(FormView.Submitted)
    def _save_key(self) -> None:
        self.action_save()

    def action_save(self) -> None:
        """Write the audit, once it was named."""
        made = self._current()
        if made is None:
            return
        audit, wanted = made
        folder = audits_folder(self.book.folder)
        words = f"{plural(len(audit.items), 'item')}, {AuditPage(audit, wanted).format_words}."
        if audit.with_gaps:
            words += f" {plural(len(audit.with_gaps), 'item')} in use: something is missing, and is listed as missing."
        dialog = SlowFileDialog[Path](
            "Write the audit", words, folder, audit_name(wanted, folder), self._writer(audit, wanted), others=FORMATS,
        )  # fmt: skip

        def done(path: Path | None) -> None:
            if path is not None:
                self.book.auditing.remember(wanted)
            self._told_where(path)

        self.app.push_screen(dialog, done)

    def _current(self) -> tuple[Audit, Wanted] | None:
        """The audit as the form stands; where it does not read, its faults are told in it."""
        if self.make():
            if self.waiting:
                self.gearlog.tell("The list is still being put together; wait for it.", "warning")
                return None
            return self.made
        self.to_form(self.faults[0].field)
        self.form.show_faults(self.faults)
        self.gearlog.tell("Not written: a field of the audit cannot be read.", "error")
        return None

    def _writer(self, audit: Audit, wanted: Wanted) -> Write[Path]:
        return lambda path, over: write_out(path, self.book.auditing.written(audit, wanted), over=over)

    def _told_where(self, path: Path | None) -> None:
        if path is not None:
            self.written = str(path)
            self.show_page()
            self.page.scroll_home(animate=False)
            self.gearlog.tell(f"Written: {path}", seconds=READ)

    def action_labels(self) -> None:
        """Write a sheet of labels for the items that the audit lists and that are in use."""
        made = self._current()
        if made is None:
            return
        audit, wanted = made
        count, auditing = len(self.book.auditing.labelled(audit)), self.book.auditing
        if not count:
            self.gearlog.tell("No item in use is chosen, so there is nothing to label.", "warning")
            return
        folder = audits_folder(self.book.folder)
        words = f"{plural(count, 'label')}: tag, name, next due, QR code of the tag. A PDF to print."
        dialog = SlowFileDialog[Path](
            "Write labels", words, folder, labels_name(audit.on, folder),
            lambda path, over: write_out(path, auditing.labels(audit, paper=wanted.paper), over=over), others=FORMATS,
        )  # fmt: skip
        self.app.push_screen(dialog, self._told_where)

    def action_report(self) -> None:
        """Write the report of one thorough examination of one of the listed items."""
        made = self._current()
        if made is None:
            return
        items = made[0].items
        found = [(item.tag, f"{item.tag}: {item.name}") for item in items if thorough(item.examinations)]
        if not found:
            self.gearlog.tell("No listed item has a thorough examination on record.", "warning")
            return

        def chosen(tag: str | None) -> None:
            if tag:
                report_on(self, tag)

        self.app.push_screen(ChooseDialog("Report of which item's examination?", found, found[0][0]), chosen)

    # The whole log

    def action_backup(self) -> None:
        """Put the whole log into one file outside of it."""
        folder = self.book.folder
        if folder is None:
            self.gearlog.tell("This log leaves nothing on the disk; back up a log of your own, see --log.", "warning")
            return
        words = "The whole log in one file, photos included; it is read again before it counts. Keep it elsewhere."
        dialog = SlowFileDialog[tuple[Path, "Verified"]](
            "Back up the log", words, backup_folder(folder), backup_name(folder, self.book.today()), self._back_up,
        )  # fmt: skip
        self.app.push_screen(dialog, self._told_backup)

    def _back_up(self, path: Path, over: bool) -> tuple[Path, Verified]:  # noqa: FBT001 (as the dialog calls it)
        if path.is_dir():
            raise GearlogError(f"{path} is a folder; type another name")
        return path, self.book.keeping.backup(path, over=over)

    def _told_backup(self, done: tuple[Path, Verified] | None) -> None:
        if done is not None:
            path, found = done
            records = plural(sum(found.records.values()), "record")
            self.written = str(path)
            self.show_page()
            told = f"Backed up: {records}, {plural(found.files, 'file')}, written and read again: {path}"
            self.gearlog.tell(told, seconds=READ)

    # Old lists

    def action_import(self) -> None:
        """Take in a list that was kept elsewhere."""
        from gearlog.tui.screens.import_list import import_list

        import_list(self)
