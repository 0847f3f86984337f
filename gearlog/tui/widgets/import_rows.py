"""An import as rows: what has to be answered, what becomes of each line, how each column is read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from gearlog.reports.words import plural
from gearlog.services.importing_choices import Choices
from gearlog.services.importing_table import ImportRefusedError
from gearlog.services.importing_views import Column, Fate, LineFate, Question, Trial
from gearlog.tui.widgets import columns as shown

WORDS = {
    Fate.ADD: ("add", ""),
    Fate.KNOWN: ("known", "quiet"),
    Fate.ASK: ("ASKED", "warn"),
    Fate.REFUSE: ("REFUSED", "bad"),
    Fate.SKIP: ("skip", "quiet"),
}
"""Fate -> its word and style."""
COUNTED = {Fate.ADD: "to add", Fate.KNOWN: "known already", Fate.ASK: "asked about", Fate.REFUSE: "refused",
           Fate.SKIP: "skipped"}  # fmt: skip
QUESTION, COLUMN, LINE, CELL, EACH, NOTE, REFUSED = "question", "column", "line", "cell", "each", "note", "refused"
"""Kinds of rows."""


@dataclass(frozen=True)
class Row:
    """One row.

    Attributes:
        id: its kind and which one it is.
        what: its kind or fate in a word; ``style`` how that is set.
        where: the line or the column.
        name: of the item, or what the column is read as.
        why: reasons and notes.
    """

    id: str
    what: str
    style: str
    where: str
    name: str
    why: str

    @property
    def kind(self) -> str:
        """One of the kinds of rows."""
        return self.id.partition(" ")[0]

    @property
    def key(self) -> str:
        """Which question or column it is."""
        return self.id.partition(" ")[2]


UNKNOWN_HEADING = "not a heading that is known"
COLUMNS: tuple[shown.Column[Row], ...] = (
    shown.Column("what", "what", lambda row: row.what, 8, style=lambda row: row.style),
    shown.Column("where", "where", lambda row: row.where, 9),
    shown.Column("name", "item or column", lambda row: row.name, 18, share=1),
    shown.Column("why", "why", lambda row: row.why, 20, share=3, style=lambda _: "quiet"),
)
"""The columns of the list."""


def summary(trial: Trial) -> str:
    """How many lines, and what becomes of them."""
    counts = [f"{count} {words}" for fate, words in COUNTED.items() if (count := trial.count(fate))]
    told = f"{trial.file}: {plural(len(trial.fates), 'line')}: {', '.join(counts)}."
    if trial.questions:
        told += f" {plural(len(trial.questions), 'question')} to answer."
    return told


def about(trial: Trial) -> str:
    """How the file was read."""
    return f"Read as {trial.read_as}, headings in line {trial.heading_line}."


def refused_row(refused: ImportRefusedError) -> Row:
    """What an answer would settle of a file that does not read."""
    name = refused.settles
    return Row(f"{REFUSED} {name}", "ANSWER", "accent", "the file", f"which {name}", refused_words(refused))


def refused_words(refused: ImportRefusedError) -> str:
    """Why a file does not read, and what to press."""
    return f"{refused.message.partition('; ')[0]}. Enter says which {refused.settles} it has"


def rows_of(trial: Trial, answered: Mapping[str, tuple[Question, str]], choices: Choices) -> tuple[Row, ...]:
    """Questions first, then what was answered and recognised, lines that are not well, the others, the columns."""
    lines = sorted(trial.fates, key=lambda one: one.fate not in {Fate.REFUSE, Fate.ASK})
    return (
        *map(_question, trial.questions),
        *(_answered(question, words) for question, words in answered.values()),
        *_typed(choices),
        *(
            Row(f"{NOTE} {place}", "note", "quiet", "the file", "recognised", note)
            for place, note in enumerate(trial.notes)
        ),
        *_lines(lines),
        *map(_column, trial.columns),
    )


def waiting(question: Question) -> str:
    """How many lines one answer settles."""
    return f"{plural(question.lines, 'line')} {'waits' if question.lines == 1 else 'wait'}"


def _question(question: Question) -> Row:
    return _asked(question, "ANSWER", "accent", waiting(question), question.asks)


def _answered(question: Question, words: str) -> Row:
    return _asked(question, "answered", "quiet", words, question.asks)


def _asked(question: Question, what: str, style: str, name: str, why: str) -> Row:
    return Row(f"{QUESTION} {question.id}", what, style, f"line {question.first}", name, why)


def _typed(choices: Choices) -> Iterator[Row]:
    """What was said of single lines and cells."""
    for field, lines in choices.each.items():
        for line, text in lines.items():
            yield Row(f"{EACH} {field}\x1f{line}", "answered", "quiet", "one line", line, f"{field}: {text}")
    for heading, cells in choices.cells.items():
        for text, said in cells.items():
            why = f"read as {said}" if said else "read as nothing there"
            yield Row(f"{CELL} {heading}\x1f{text}", "answered", "quiet", "a cell", f"{heading}: {text}", why)


def _lines(fates: Sequence[LineFate]) -> Iterator[Row]:
    for one in fates:
        word, style = WORDS[one.fate]
        name = " ".join(part for part in (one.tag, one.name) if part)
        yield Row(f"{LINE} {one.line}", word, style, f"line {one.line}", name, "; ".join((*one.reasons, *one.notes)))


def _column(column: Column) -> Row:
    unit = f" in {column.unit}" if column.unit else ""
    meaning = f"{column.field.replace('_', ' ')}{unit}: " if column.field else ""
    sample = f", such as {column.sample}" if column.sample else ""
    style = "warn" if column.why.endswith(UNKNOWN_HEADING) else ""
    return Row(f"{COLUMN} {column.heading}", "column", style, "", column.heading, f"{meaning}{column.why}{sample}")
