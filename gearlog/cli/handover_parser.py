"""What may be typed after the verbs that hand over, take in and keep a whole log."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import Protocol

from gearlog.cli import audit_verbs, import_verb, keeping_verbs
from gearlog.reports.audit_tables import TABLES
from gearlog.services.auditing_forms import ALSO, FORMATS, PAPERS, REPORT_FORM, SETS

EXAMPLES = {
    "audit": "gearlog audit --format csv --out audit.csv",
    "report": "gearlog report line-3 --out report.pdf",
    "labels": "gearlog labels --only place='van 2' --out labels.pdf",
    "import": "gearlog import old-list.csv --dry-run",
    "backup": "gearlog backup log.zip",
    "restore": "gearlog restore log.zip --log restored",
    "verify": "gearlog verify log.zip",
    "check": "gearlog check",
    "undo": "gearlog undo --list",
}
"""A call that works, by verb."""


class Verb(Protocol):
    """Makes the parser of one verb."""

    def __call__(
        self,
        adder: argparse._SubParsersAction,  # type: ignore[type-arg] # argparse gives its type no public name
        name: str,
        run: Callable[..., int],
        *,
        help: str,  # noqa: A002 (argparse's word)
    ) -> argparse.ArgumentParser:
        """The parser, without options of its own."""


AddField = Callable[..., None]


def add_verbs(adder: argparse._SubParsersAction, verb: Verb, add_field: AddField) -> None:  # type: ignore[type-arg]
    """Add the verbs to the command line."""
    _add_audit(verb(adder, "audit", audit_verbs.audit, help="the list to hand over"))
    _add_report(
        verb(adder, "report", audit_verbs.report, help="the report of one thorough examination, as the law asks it"),
        add_field,
    )
    _add_labels(verb(adder, "labels", audit_verbs.labels, help="a sheet of labels: tag, name, next due, QR code"))
    _add_import(verb(adder, "import", import_verb.take_in, help="take in a list of gear, CSV or XLSX"))
    _add_backup(verb(adder, "backup", keeping_verbs.backup, help="the whole log, photos included, in one file"))
    _add_undo(verb(adder, "undo", keeping_verbs.undo, help="take back the last change, one step at a time"))
    for name, run, told in (
        ("restore", keeping_verbs.restore, "the log of a backup, put into the new folder that --log names"),
        ("verify", keeping_verbs.verify, "whether a backup is whole, and what is in it"),
        ("check", keeping_verbs.check, "whether the log is sound; changes nothing"),
    ):
        parser = verb(adder, name, run, help=told)
        parser.set_defaults(opens=False)
        if name != "check":
            parser.add_argument("file", metavar="FILE", help="the backup")
        if name != "restore":
            parser.add_argument("--json", action="store_true", help="print JSON")


def _add_audit(parser: argparse.ArgumentParser) -> None:
    about = f"{' | '.join(FORMATS)}; else by the ending of FILE, else csv"
    parser.add_argument("--format", metavar="FORMAT", choices=FORMATS, help=about)
    _add_out(parser)
    _add_set(parser)
    parser.add_argument("--since", metavar="DATE", help="day of the last audit; the last written, else a year before")
    parser.add_argument("--pages", action="store_true", help="pdf, html: a page for each item with its history")
    parser.add_argument("--table", metavar="TABLE", choices=TABLES, help=f"csv: {' | '.join(TABLES)}")
    parser.add_argument("--bom", action="store_true", help="csv: begin with the mark that some spreadsheets ask for")


def _add_report(parser: argparse.ArgumentParser, add_field: AddField) -> None:
    parser.add_argument("tag", metavar="TAG", help="the item that was examined")
    parser.add_argument("--format", metavar="FORMAT", choices=audit_verbs.REPORT_FORMATS, help="pdf | html | json")
    _add_out(parser)
    _add_paper(parser)
    for field in REPORT_FORM:
        if field.name != "tag":
            add_field(parser, field)


def _add_labels(parser: argparse.ArgumentParser) -> None:
    _add_out(parser)
    _add_set(parser)


def _add_import(parser: argparse.ArgumentParser) -> None:
    many = "; may be given several times"
    parser.add_argument("file", metavar="FILE", help="the list")
    parser.add_argument("--dry-run", action="store_true", help="tell every line's fate and save nothing")
    parser.add_argument("--good-lines", action="store_true", help="save the lines that are well, leave out the others")
    parser.add_argument("--json", action="store_true", help="print JSON")
    parser.add_argument("--map", metavar="FILE", help="a mapping that was saved, TOML")
    parser.add_argument("--save-map", metavar="FILE", help="write what was said and recognised, to be given again")
    parser.add_argument(
        "--column", metavar="HEADING=FIELD", action="append", help=f"what a column is, - is nothing{many}"
    )
    parser.add_argument("--dates", metavar="ORDER", choices=("dmy", "mdy", "ymd"), help="dmy, mdy or ymd: 03/04/2024")
    parser.add_argument("--decimal", metavar="SIGN", choices=("point", "comma"), help="point or comma before decimals")
    parser.add_argument("--unit", metavar="FIELD=UNIT", action="append", help=f"the unit of bare numbers{many}")
    parser.add_argument("--set", metavar="FIELD=TEXT", action="append", help=f"for lines that say nothing there{many}")
    parser.add_argument(
        "--word", metavar="FIELD:WORD=OURS", action="append", help=f"what a word of the list means{many}"
    )
    parser.add_argument(
        "--cell", metavar="HEADING:TEXT=NEW", action="append", help=f"what a text in a column is read as{many}"
    )
    parser.add_argument(
        "--each", metavar="FIELD:TAG=TEXT", action="append", help=f"what one line has, by its tag or name{many}"
    )
    parser.add_argument(
        "--twins", metavar="FATE", choices=("keep", "skip"), help="of lines that are alike: keep or skip"
    )
    parser.add_argument("--encoding", metavar="NAME", help="of a CSV file, when it is not recognised")
    parser.add_argument("--sheet", metavar="NAME", help="of a workbook")


def _add_backup(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="the file to write, outside of the log's folder")
    parser.add_argument("--force", action="store_true", help="write over a file that is there")


def _add_undo(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--list", action="store_true", help="only tell the last changes, the newest first")
    parser.add_argument("--json", action="store_true", help="print JSON")


def _add_out(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--out", metavar="FILE", required=True, help="file to write, - is standard output")


def _add_set(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--on", metavar="DATE", help="as of this day; today, unless you say")
    about = f"a part of the items, KIND one of {', '.join((*SETS, *ALSO))}; may be given several times"
    parser.add_argument("--only", metavar="KIND=NAME", action="append", help=about)
    _add_paper(parser)


def _add_paper(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--paper", metavar="PAPER", choices=PAPERS, help="a4 or letter")
