"""``gearlog audit``, ``report`` and ``labels``: what is handed over or stuck on, written to a file."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit, WrongCallError
from gearlog.services.auditing_forms import ALSO, FORMATS, PAPERS, REPORT_FORM, SETS
from gearlog.units.quoting import quoted

if TYPE_CHECKING:
    from gearlog.domain.audited import Audit
    from gearlog.services.auditing_forms import Wanted
    from gearlog.services.book import Book

REPORT_FORMATS = ("pdf", "html", "json")
ON_PAPER = frozenset({"pdf", "html", "xlsx"})
"""Formats that are laid out for a paper."""
WITH_PAGES = frozenset({"pdf", "html"})


def audit(book: Book, options: Namespace) -> Exit:
    """Write the list to hand over."""
    kind = _kind(options, FORMATS)
    _check_fit(options, kind)
    wanted = _wanted(book, options, kind)
    made = book.auditing.audit(wanted)
    done = output.save(options.out, book.auditing.written(made, wanted), example=f"--out audit.{kind}")
    if done:
        book.auditing.remember(wanted)
        since = f" ({wanted.since_is})" if wanted.since_is else ""
        told = f"what left use since {made.since}{since} is told: {_items(len(made.retired))}"
        output.lines([f"{_items(len(made.items))} {done}", *_summary(made), told])
    return Exit.FINE


def report(book: Book, options: Namespace) -> Exit:
    """Write the report of one thorough examination."""
    kind = _kind(options, REPORT_FORMATS)
    reports = book.auditing.reports
    typed = {field.name: getattr(options, field.name, None) for field in REPORT_FORM}
    made = reports.report(reports.blank_form() | {name: text for name, text in typed.items() if text is not None})
    data = book.auditing.report_written(made, kind, paper=options.paper or PAPERS[0])
    done = output.save(options.out, data, example=f"--out report.{kind}")
    if done:
        output.lines(
            [f"report of {made.tag} {done}", *(f"missing: {one.paragraph} {one.asks}" for one in made.missing)]
        )
    return Exit.FINE


def labels(book: Book, options: Namespace) -> Exit:
    """Write a sheet of labels."""
    wanted = _wanted(book, options, "pdf")
    made = book.auditing.audit(wanted)
    count = len(book.auditing.labelled(made))
    if not count:
        raise WrongCallError("no item in use is chosen, so there is nothing to label; see: gearlog list")
    done = output.save(options.out, book.auditing.labels(made, paper=wanted.paper), example="--out labels.pdf")
    if done:
        output.lines([f"{count} {'label' if count == 1 else 'labels'} {done}"])
    return Exit.FINE


def _wanted(book: Book, options: Namespace, kind: str) -> Wanted:
    form = book.auditing.blank_form() | _sets(options.only or [])
    names = ("on", "since", "paper", "table")
    form |= {name: text for name in names if (text := getattr(options, name, None)) is not None}
    ticked = {name: "yes" if getattr(options, name, False) else "" for name in ("pages", "bom")}
    return book.auditing.wanted(form | {"format": kind} | ticked)


def _sets(given: list[str]) -> dict[str, str]:
    """``--only KIND=NAME``, of which several may be given."""
    found: dict[str, list[str]] = {}
    for text in given:
        kind, sign, name = text.partition("=")
        kind = ALSO.get(kind.strip(), kind.strip())
        if not sign or kind not in SETS or not name.strip():
            raise WrongCallError(
                f"--only {quoted(text)}: type KIND=NAME with one of {', '.join((*SETS, *ALSO))}, for example: "
                "--only category=lifeline"
            )
        found.setdefault(kind, []).append(name)
    return {kind: ", ".join(names) for kind, names in found.items()}


def _kind(options: Namespace, kinds: tuple[str, ...]) -> str:
    """The format that was named, else that of the file's ending, else the first."""
    if options.format:
        return str(options.format)
    ending = Path(options.out).suffix.lower().removeprefix(".")
    return ending if ending in kinds else kinds[0]


def _check_fit(options: Namespace, kind: str) -> None:
    """What the format cannot use is refused, not left out in silence."""
    for name, given, fits in (
        ("--table", options.table, kind == "csv"),
        ("--bom", options.bom, kind == "csv"),
        ("--paper", options.paper, kind in ON_PAPER),
        ("--pages", options.pages, kind in WITH_PAGES),
    ):
        if given and not fits:
            example = "--format csv" if name in {"--table", "--bom"} else "--format pdf"
            raise WrongCallError(f"{name} changes nothing in {kind}; leave it out, or give another {example}")


def _items(count: int) -> str:
    return f"{count} {'item' if count == 1 else 'items'}"


def _summary(made: Audit) -> list[str]:
    """What an examiner would ask about, a line each; nothing where all is well."""
    told = [
        ("overdue", len(made.overdue)),
        ("in quarantine", len(made.quarantined)),
        ("with a particular missing", len(made.with_gaps)),
    ]
    return [f"{_items(count)} {what}" for what, count in told if count] + [f"content digest {made.digest}"]
