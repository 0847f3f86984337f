"""``gearlog import``: an old list tried first, every line's fate told, then taken in whole or not at all."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit, WrongCallError
from gearlog.units.quoting import quoted

NESTED = {
    "--word": ("FIELD:WORD=OURS", "category:rope=lifeline"),
    "--cell": ("HEADING:TEXT=NEW", "Bought:03/04/2024=2024-04-03"),
    "--each": ("FIELD:TAG=TEXT", "construction:K-1=kernmantle"),
}
"""Options of two keys and a value, as they are typed."""
LONGEST = 80  # signs of a name that are told

if TYPE_CHECKING:
    from gearlog.services.book import Book
    from gearlog.services.importing_choices import Choices
    from gearlog.services.importing_views import Column, LineFate, Trial


def take_in(book: Book, options: Namespace) -> Exit:
    """Try a list, tell every line's fate, and save its items if all is well."""
    from gearlog.services.importing_files import read_list

    name, data = read_list(options.file, pipe=True)
    choices = _choices(options)
    if options.dry_run:
        trial = book.importing.trial(data, name, choices)
    else:
        trial = book.importing.take_in(data, name, choices, good_lines=options.good_lines)
    if options.json:
        output.json(trial)
    else:
        output.lines(_told(trial, options))
    if options.save_map:
        _save_map(trial, choices, options)
    return Exit.FINE if trial.all_well else Exit.FINDING


def _choices(options: Namespace) -> Choices:
    """What a mapping file says, and what was typed over it."""
    from gearlog.services.importing_choices import Choices, checked, joined
    from gearlog.services.importing_files import read_mapping

    typed = Choices(
        columns=_pairs("--column", options.column),
        units=_pairs("--unit", options.unit),
        set=_pairs("--set", options.set),
        words=_nested("--word", options.word),
        cells=_nested("--cell", options.cell, empty=True),
        each=_nested("--each", options.each),
        dates=options.dates or "",
        decimal=options.decimal or "",
        encoding=options.encoding or "",
        sheet=options.sheet or "",
        twins=options.twins or "",
    )
    kept = read_mapping(options.map) if options.map else Choices()
    return checked(joined(kept, typed), "the options")


def _pairs(option: str, given: Iterable[str] | None) -> dict[str, str]:
    """``LEFT=RIGHT``, the last sign counting, so that a heading may hold one."""
    found = {}
    for text in given or ():
        left, sign, right = text.rpartition("=")
        if not sign or not left.strip() or not right.strip():
            example = {"--column": "--column 'Rope=name'", "--unit": "--unit diameter=mm"}
            raise WrongCallError(
                f"{option} {quoted(text)}: type two words with = between, for example: "
                f"{example.get(option, '--set category=lifeline')}"
            )
        found[left.strip()] = right.strip()
    return found


def _nested(option: str, given: Iterable[str] | None, *, empty: bool = False) -> dict[str, dict[str, str]]:
    """``LEFT:TEXT=OURS``; only with ``empty`` may nothing stand behind the last sign."""
    form, example = NESTED[option]
    found: dict[str, dict[str, str]] = {}
    for text in given or ():
        left, sign, ours = text.rpartition("=")
        outer, colon, inner = left.partition(":")
        if not (sign and colon and outer.strip() and inner.strip() and (ours.strip() or empty)):
            raise WrongCallError(f"{option} {quoted(text)}: type {form}, for example: {option} {example}")
        found.setdefault(outer.strip(), {})[inner.strip()] = ours.strip()
    return found


def _told(trial: Trial, options: Namespace) -> Iterator[str]:
    yield f"{trial.file}: read as {trial.read_as}; headings in line {trial.heading_line}"
    yield from map(_column, trial.columns)
    yield from (f"note: {note}" for note in trial.notes)
    yield from (line for fate in trial.fates if (line := _fate(fate, all_lines=options.dry_run)))
    for question in trial.questions:
        count = f"{question.lines} {'line waits' if question.lines == 1 else 'lines wait'}"
        yield f"QUESTION: {question.asks} ({count}, the first is line {question.first}) Answer with {question.way_out}"
    yield _outcome(trial, options)


def _column(column: Column) -> str:
    sample = f", such as {quoted(column.sample)}" if column.sample else ""
    unit = f" in {column.unit}" if column.unit else ""
    meaning = f"{column.field.replace('_', ' ')}{unit}" if column.field else "-"
    return f"column {quoted(column.heading)}: {meaning} ({column.why}){sample}"


def _fate(fate: LineFate, *, all_lines: bool) -> str:
    """A line's fate; of what is well only where all are asked for."""
    words = {"add": "add", "known": "known", "ask": "ASKED ABOUT", "refuse": "REFUSED", "skip": "skipped"}
    if fate.fate == "add" and not (all_lines or fate.notes):
        return ""
    name = fate.name if len(fate.name) <= LONGEST else f"{fate.name[:LONGEST]}..."
    named = " ".join(part for part in (fate.tag, f"({name})" if name else "") if part)
    why = "; ".join((*fate.reasons, *fate.notes))
    return f"line {fate.line}: {words[fate.fate]} {named}".rstrip() + (f": {why}" if why else "")


def _outcome(trial: Trial, options: Namespace) -> str:
    from gearlog.services.importing_views import Fate

    counted = ((Fate.ADD, "to add"), (Fate.KNOWN, "known already"), (Fate.ASK, "asked about"),
               (Fate.REFUSE, "refused"), (Fate.SKIP, "skipped"))  # fmt: skip
    counts = [(trial.count(fate), words) for fate, words in counted]
    told = ", ".join(f"{count} {words}" for count, words in counts if count) or "no lines"
    if trial.imported:
        items = "item was" if trial.imported == 1 else "items were"
        return f"{trial.imported} {items} saved ({told}); gearlog undo takes this back as one step"
    if options.dry_run:
        return f"dry run, nothing was saved: {told}"
    if trial.all_well:
        return f"nothing new to save: {told}"
    return f"nothing was saved: {told}; answer the questions, mend the lines, or take --good-lines"


def _save_map(trial: Trial, choices: Choices, options: Namespace) -> None:
    """Keep what was said and what was recognised, to be looked at and given again."""
    from gearlog.services.importing_files import mapping_of

    done = output.save(options.save_map, mapping_of(trial, choices), example="--save-map list.toml")
    if done and not options.json:
        output.lines([f"mapping {done}"])
