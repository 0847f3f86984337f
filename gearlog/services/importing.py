"""Importing: lists that people already keep, tried first, then taken in whole or not at all, undone as one step."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

import msgspec
from msgspec.structs import replace

from gearlog.domain.record import Record
from gearlog.services.importing_choices import Choices
from gearlog.services.importing_dates import Order, in_words, order_of
from gearlog.services.importing_drafts import Context, Doubt
from gearlog.services.importing_fates import Fates, Made
from gearlog.services.importing_headings import matched, score, unit_of
from gearlog.services.importing_measures import KINDS, decimal_of
from gearlog.services.importing_rows import DATES, read_line
from gearlog.services.importing_table import ImportRefusedError, Line, Table, read_table
from gearlog.services.importing_views import Column, Fate, Question, Trial
from gearlog.services.shelf import Shelf
from gearlog.storage.loading import quiet
from gearlog.units.quoting import quoted

HEADINGS_WITHIN = 20  # lines; above the headings stand a title and perhaps a date
LEAST_SCORE = 1


class Prepared(msgspec.Struct, frozen=True):
    """An import that was tried and can be saved.

    Attributes:
        trial: what would become of every line.
        records: what would be saved.
        data: the file's content; ``choices`` how it was read; ``version`` of the log when it was tried.
    """

    trial: Trial
    records: tuple[Record, ...]
    data: bytes
    choices: Choices
    version: int


class Importing:
    """Imports into one log."""

    def __init__(self, shelf: Shelf) -> None:
        self._shelf = shelf

    def trial(self, data: bytes, file: str, choices: Choices | None = None) -> Trial:
        """What would become of every line; nothing is saved. Raises ImportRefusedError for what is no list."""
        return self.prepared(data, file, choices).trial

    def prepared(self, data: bytes, file: str, choices: Choices | None = None) -> Prepared:
        """The same, with all that is needed to save it; raises ImportRefusedError."""
        with quiet():
            version = self._shelf.store.version
            trial, records = self._tried(data, file, choices or Choices())
            return Prepared(trial, tuple(records), data, choices or Choices(), version)

    def take_in(self, data: bytes, file: str, choices: Choices | None = None, *, good_lines: bool = False) -> Trial:
        """Save the items of a list, all or none; with ``good_lines`` those that are well, without the others.

        One change of the log, undone as one step. Raises ImportRefusedError, ReadOnlyError, StorageError.
        """
        return self.save(self.prepared(data, file, choices), good_lines=good_lines)

    def save(self, prepared: Prepared, *, good_lines: bool = False) -> Trial:
        """Save what was prepared, prepared anew where the log was changed since; raises as ``take_in`` does."""
        trial = prepared.trial
        if prepared.version != self._shelf.store.version:
            return self.take_in(prepared.data, trial.file, prepared.choices, good_lines=good_lines)
        if not prepared.records or not (trial.all_well or good_lines):
            return trial
        count = trial.count(Fate.ADD)
        what = f"{count} {'item' if count == 1 else 'items'}"
        with quiet():
            self._shelf.store.save(*prepared.records, label=f"import {what} from {trial.file}")
        return replace(trial, imported=count)

    def _tried(self, data: bytes, file: str, choices: Choices) -> tuple[Trial, list[Record]]:
        table = read_table(data, file, encoding=choices.encoding, sheet=choices.sheet)
        place = _heading_place(table.lines, choices)
        columns = _columns(table.lines, place, choices)
        lines = table.lines[place + 1 :]
        if not lines:
            raise ImportRefusedError(f"{file} holds headings and no lines beneath them; export the list again")
        context, notes = _context(columns, lines, choices, self._shelf)
        fates = Fates(self._shelf, file, choices.twins)
        made = [fates.of(read_line(line, context)) for line in lines]
        trial = Trial(
            file=file,
            kind=table.kind,
            read_as=table.read_as,
            heading_line=table.lines[place].number,
            columns=columns,
            notes=(*table.notes, *_title_note(table, place), *notes),
            questions=_questions(made),
            fates=tuple(one.fate for one in made),
        )
        return trial, [record for one in made for record in one.records]


def _heading_place(lines: Sequence[Line], choices: Choices) -> int:
    """Which line holds the headings: the one that names most particulars."""
    own = {heading.casefold() for heading in choices.columns}
    scores = [
        score(line.cells) + sum(cell.casefold() in own for cell in line.cells) for line in lines[:HEADINGS_WITHIN]
    ]
    best = max(scores, default=0)
    if best < LEAST_SCORE:
        seen = ", ".join(quoted(cell, 20) for cell in lines[0].cells[:8] if cell)
        raise ImportRefusedError(
            f"no heading is known in the first lines ({seen}); name them, for example: --column 'Rope=name'"
        )
    return scores.index(best)


def _columns(lines: Sequence[Line], place: int, choices: Choices) -> tuple[Column, ...]:
    headings = list(lines[place].cells)
    while headings and not headings[-1]:
        headings.pop()
    samples = [_sample(lines[place + 1 :], at) for at in range(len(headings))]
    found = matched(headings, choices.columns)
    return tuple(
        Column(heading, field, unit_of(heading)[1] if field in KINDS else "", sample, why)
        for heading, (field, why), sample in zip(headings, found, samples, strict=True)
    )


def _sample(lines: Sequence[Line], at: int) -> str:
    return next((line.cells[at] for line in lines[:HEADINGS_WITHIN] if at < len(line.cells) and line.cells[at]), "")


def _context(
    columns: tuple[Column, ...], lines: Sequence[Line], choices: Choices, shelf: Shelf
) -> tuple[Context, tuple[str, ...]]:
    """What the whole file tells about its dates and numbers, and what to say about it."""
    orders = {at: order_of(_texts(lines, at)) for at, column in enumerate(columns) if column.field in DATES}
    measured = [at for at, column in enumerate(columns) if column.field in {*KINDS, "size", "name"}]
    proved = "" if choices.decimal else decimal_of(text for at in measured for text in _texts(lines, at))
    notes = [] if choices.dates else list(_order_notes(orders, columns))
    if proved == "comma":
        notes.append("a comma stands before decimals in this list")
    found = {at: order.order for at, order in orders.items()}
    return Context(columns, found, choices.decimal or proved, choices, shelf.clock.today()), tuple(notes)


def _order_notes(orders: dict[int, Order], columns: tuple[Column, ...]) -> Iterable[str]:
    for at, order in orders.items():
        if order.order:
            yield in_words(order, [columns[at].heading])


def _texts(lines: Sequence[Line], at: int) -> Iterable[str]:
    return (line.cells[at] for line in lines if at < len(line.cells))


def _title_note(table: Table, place: int) -> tuple[str, ...]:
    above = [" ".join(filter(None, line.cells)) for line in table.lines[:place]]
    return (f"above the headings, not used: {quoted(' / '.join(above), 60)}",) if above else ()


def _questions(made: Sequence[Made]) -> tuple[Question, ...]:
    """Each question once, in the order in which it comes up."""
    first: dict[str, tuple[Doubt, int]] = {}
    counts: Counter[str] = Counter()
    for one in made:
        for doubt in one.doubts:
            first.setdefault(doubt.id, (doubt, one.fate.line))
        counts.update({doubt.id for doubt in one.doubts})
    return tuple(
        Question(doubt.id, f"{doubt.fact}: {doubt.asks}", doubt.way_out, counts[doubt.id], line)
        for doubt, line in first.values()
    )
