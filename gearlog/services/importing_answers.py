"""Answers to an import's questions: what can be answered, and what the answer changes in the choices."""

from __future__ import annotations

from collections.abc import Callable

import msgspec
from msgspec.structs import replace

from gearlog.domain.vocabulary import Category
from gearlog.services.forms import CONSTRUCTIONS, words_of
from gearlog.services.importing_choices import FIELDS, UNKNOWN, WORDS, Choices
from gearlog.services.importing_headings import LEFT_OUT
from gearlog.services.importing_views import Cell, LineFate, Question, Trial

Pairs = tuple[tuple[str, str], ...]
"""(value, words) of what can be answered."""
LABELS = {**dict(words_of(Category)), **dict(CONSTRUCTIONS), UNKNOWN: "not known: sizes go into the notes"}
"""Words for people."""
UNITS: dict[str, Pairs] = {
    "diameter": (("mm", "mm"), ("in", "inches")),
    "length_bought": (("m", "metres"), ("ft", "feet")),
    "breaking_strength": (("kN", "kN"), ("kgf", "kilograms"), ("lbf", "pounds")),
    "safe_working_load": (("kN", "kN"), ("kgf", "kilograms"), ("lbf", "pounds")),
}
"""By field, the units that are usual."""
PLAIN: dict[str, Pairs] = {
    "dates": (("dmy", "day first: 03/04/2024 is 3 April"), ("mdy", "month first: 03/04/2024 is 4 March"),
              ("ymd", "year first: 24/04/03 is 3 April 2024")),
    "decimal": (("point", "a point stands before decimals: 1.5"), ("comma", "a comma stands before decimals: 1,5")),
    "twins": (("keep", "they are second items"), ("skip", "they are the same item, written down twice")),
}  # fmt: skip
"""Questions whose answer is a choice of its own."""


class Asked(msgspec.Struct, frozen=True):
    """A question that can be answered.

    Attributes:
        answers: what can be answered; empty where only the list itself can settle it.
        settle: the choices with an answer in them.
    """

    answers: Pairs
    settle: Callable[[Choices, str], Choices]


def asked(question: Question, trial: Trial) -> Asked:
    """What can be answered to a question of a trial."""
    kind, _, rest = question.id.partition(" ")
    if kind in PLAIN:
        return Asked(PLAIN[kind], lambda choices, value: replace(choices, **{kind: value}))
    if kind == "unit":
        return Asked(UNITS.get(rest, ()), lambda choices, unit: replace(choices, units=choices.units | {rest: unit}))
    if kind == "word":
        field, _, word = rest.partition(" ")
        return Asked(_words(field), lambda choices, ours: _translated(choices, field, word, ours))
    if kind == "column":
        held = {column.heading: f", such as {column.sample}" if column.sample else "" for column in trial.columns}
        answers = tuple((heading, f"{heading}{sample}") for heading, sample in held.items() if heading)
        return Asked(answers, lambda choices, heading: read_as(choices, heading, rest))
    if kind in {"category", "construction"}:
        return Asked(_words(kind), lambda choices, value: replace(choices, set=choices.set | {kind: value}))
    return _into_notes(trial)


def fields() -> Pairs:
    """What a column can be read as; the first leaves it out."""
    return ((LEFT_OUT, "not used"), *((field, field.replace("_", " ")) for field in sorted(set(FIELDS))))


def read_as(choices: Choices, heading: str, field: str) -> Choices:
    """The choices with a column read as a field."""
    return replace(choices, columns=choices.columns | {heading: field})


def typed_anew(choices: Choices, cell: Cell, text: str) -> Choices:
    """The choices with a cell read as what was typed, wherever its column holds the same text."""
    known = choices.cells.get(cell.heading, {})
    return replace(choices, cells=choices.cells | {cell.heading: known | {cell.text: text}})


def of_line(question: str, fate: LineFate) -> Asked | None:
    """What one line alone can be answered to a question; None where the answer is for all lines."""
    line = fate.tag or fate.name
    if question not in {"category", "construction"} or not line:
        return None
    return Asked(_words(question), lambda choices, value: _said_of(choices, question, line, value))


def _said_of(choices: Choices, field: str, line: str, value: str) -> Choices:
    return replace(choices, each=choices.each | {field: choices.each.get(field, {}) | {line: value}})


def _words(field: str) -> Pairs:
    return tuple((word, LABELS.get(word, word.replace("-", " "))) for word in map(str, WORDS.get(field, ())))


def _translated(choices: Choices, field: str, word: str, ours: str) -> Choices:
    return replace(choices, words=choices.words | {field: choices.words.get(field, {}) | {word: ours}})


def _into_notes(trial: Trial) -> Asked:
    """A size that cannot be taken apart can stay as it is, in the notes."""
    headings = [column.heading for column in trial.columns if column.field == "size"]
    answers = (("notes", "keep the sizes as they stand, in the notes"),) if headings else ()
    return Asked(
        answers,
        lambda choices, value: replace(choices, columns=choices.columns | dict.fromkeys(headings, value)),
    )
