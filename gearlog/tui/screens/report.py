"""The report of one thorough examination: what the law asks and the log does not hold is asked here, then written."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from gearlog.domain.vocabulary import Unit
from gearlog.reports.words import plural
from gearlog.services.auditing_forms import REPORT_FORM
from gearlog.services.forms import Field, FieldKind
from gearlog.services.handing_audits import audits_folder, report_name
from gearlog.services.handing_out import PAPERS, card_path, write_out
from gearlog.tui.screens.base import GearlogScreen
from gearlog.tui.screens.form_screen import FormScreen, Task

READ = 12.0  # seconds; a path takes long to read
KEPT = "report kept"
"""Under this name what is the same in most reports is remembered: who examines for whom, and where they are."""
SAME = ("employer", "premises", "examiner_address", "examiner_employer", "authenticated_by")
OUT: tuple[Field, ...] = (
    Field("format", "format", FieldKind.CHOICE, (("pdf", "PDF"), ("html", "HTML"), ("json", "JSON")), default="pdf",
          group="The file"),
    Field("paper", "paper", FieldKind.CHOICE, PAPERS, default="a4", group="The file"),
    Field("file", "file name", hint="of the tag and the day, unless you type one", group="The file"),
)  # fmt: skip
"""How the report is written."""
_OUT = frozenset(field.name for field in OUT)


class Written(NamedTuple):
    """A report that was written: where, and how many of its particulars are missing."""

    path: Path
    missing: int


def report_on(screen: GearlogScreen[Any], tag: str) -> None:
    """Ask what the report of an item's examination needs and write it; an item that was not examined is told."""
    app, book = screen.gearlog, screen.book
    made = app.attempt(lambda: book.auditing.reports.report({"tag": tag}))
    if made is None:
        return

    def save(values: dict[str, str]) -> Written:
        told = {name: text for name, text in values.items() if name not in _OUT}
        report = book.auditing.reports.report({**told, "tag": tag})
        kind, folder = values["format"], audits_folder(book.folder)
        name = values["file"].strip() or report_name(tag, report.on, folder, kind)
        data = book.auditing.report_written(report, kind, paper=values["paper"])
        app.memory.keep_draft(KEPT, {name: values[name] for name in SAME})
        return Written(write_out(card_path(name, folder, kind), data), len(report.missing))

    def done(written: Written | None) -> None:
        if written is not None:
            lack = plural(written.missing, "particular")
            missing = f" {lack} missing: listed as missing, with room to write." if written.missing else ""
            app.tell(f"Written: {written.path}.{missing}", seconds=READ)

    start = book.auditing.reports.blank_form(tag) | (app.memory.draft(KEPT) or {})
    task = Task(
        place=screen.PLACE,
        title=f"Report of a thorough examination: {tag}, {made.name}",
        fields=(*(field for field in REPORT_FORM if field.name != "tag"), *OUT),
        start=start | {"format": "pdf", "paper": "letter" if book.settings.unit is Unit.IMPERIAL else "a4", "file": ""},
        draft=f"report:{tag}",
        save=save,
        check=lambda name, text: book.gear.field_fault((*REPORT_FORM, *OUT), name, text),
        relevant=_matters,
        told=f"Last examined on {made.on}. The log tells the rest; what stays empty is listed as missing.",
        help="The particulars of Schedule 1 of the Lifting Operations and Lifting Equipment Regulations 1998. What the "
        "log holds is taken from it: the item, the examination, its findings and the next date. What is empty is "
        "listed as missing, with room to write by hand. Whom it is for and who examines is remembered for the next "
        "report. ctrl+s writes the file.",
    )
    screen.app.push_screen(FormScreen(task), done)


def _matters(name: str, values: Mapping[str, str]) -> bool:
    return name != "paper" or values.get("format") != "json"
