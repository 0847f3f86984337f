"""The diary as it is shown: the list, what narrows it, and the record of one splice beside or over it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Outcome, Unit, label
from gearlog.errors import InvalidRecordError, NotFoundError
from gearlog.reports.words import Tape
from gearlog.services.forms import Field, FieldKind, words_of
from gearlog.services.views import SpliceRow
from gearlog.tui.dialogs.choose import Choice
from gearlog.tui.dialogs.narrow import NarrowDialog
from gearlog.tui.screens.list_page import WIDE
from gearlog.tui.screens.list_screen import ListScreen
from gearlog.tui.text import content
from gearlog.tui.widgets.columns import Column
from gearlog.tui.widgets.lines import as_content
from gearlog.tui.widgets.splice_view import SplicePage

if TYPE_CHECKING:
    from gearlog.services.book import Book

WIDER = 120  # columns from which the record beside the list has room for a drawing
ROOMY = 64  # cells of a list in which the method's title tells it from others
LEAST_DRAWING = 60  # cells; a narrower page shows no drawing rather than a broken one
ONLY = "splices.only."
"""What stands before a filter's name where the screens remember it."""
BAD = frozenset({Outcome.FAILED, Outcome.CUT_OFF, Outcome.GIVEN_UP})


class SplicesList(ListScreen[SpliceRow]):
    """The diary with the record of one splice."""

    PLACE = "splices"
    KEYS = "splices"
    CARD_KEYS = "splice"
    CSS_PATH = "splices.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide"), (WIDER, "-wider")]  # noqa: RUF012 (the toolkit's shape)
    EMPTY = "The diary is empty. Press 4 to plan a splice and take it to the bench, or a to record one that is made."
    KIND = "method"
    STATE = "outcome"
    STATES = words_of(Outcome)

    def __init__(self) -> None:
        super().__init__()
        self._old = False  # whether earlier versions are shown

    def columns(self) -> Sequence[Column[SpliceRow]]:
        """Date, rope, end, method (by its id where a title would be cut to its first word), outcome."""
        return (
            Column("made", "made on", lambda row: row.made_on.text, 10),
            Column("tag", "rope", lambda row: row.tag, 9, share=1),
            Column("end", "end", lambda row: row.end, 3),
            Column("method", "method", lambda row: row.method_title, 20, share=2, needs=ROOMY),
            Column("method", "method", lambda row: row.splice.method, 10, share=2, until=ROOMY),
            Column("outcome", "outcome", _outcome, 11, style=_style),
        )

    def rows(self) -> Sequence[SpliceRow]:
        """All splices that pass what narrows the diary, each as its newest version tells it."""
        only = self.only
        if not only:
            return self.book.diary.rows()
        try:
            return self.book.diary.search(only)
        except InvalidRecordError:  # kept by an older program
            return self.book.diary.rows()

    def identity(self, row: SpliceRow) -> str:
        """The record's id."""
        return row.splice.id

    def search(self, row: SpliceRow) -> str:
        """What the filter finds."""
        return row.search

    def kinds(self) -> Sequence[Choice]:
        """The methods that splices were made by."""
        return tuple({row.splice.method: row.method_title for row in self.book.diary.rows()}.items())

    def is_kind(self, row: SpliceRow, kind: str) -> bool:
        """By method."""
        return row.splice.method == kind

    def is_state(self, row: SpliceRow, state: str) -> bool:
        """By outcome."""
        return row.outcome == state

    # What narrows the diary

    def parts(self) -> ComposeResult:
        """What narrows stands over the list, in words."""
        only = Static(id="only")
        only.display = False
        yield only
        yield from super().parts()

    @property
    def filters(self) -> Sequence[Field]:
        """What can narrow the diary beside the line of words."""
        return tuple(field for field in self.book.diary.filters() if field.name != "words")

    @property
    def only(self) -> dict[str, str]:
        """The filters that are set."""
        kept = {field.name: self.gearlog.memory.filter(ONLY + field.name) for field in self.filters}
        return {name: text for name, text in kept.items() if text}

    def action_narrow(self) -> None:
        """Show only splices of a rope, a construction, a maker, with a difficulty, from some time."""
        blank = {field.name: "" for field in self.filters}
        dialog = NarrowDialog(self.filters, blank | self.only, self.book.diary.search)
        self.app.push_screen(dialog, self._narrowed)

    def _narrowed(self, filters: Mapping[str, str] | None) -> None:
        if filters is None:
            return
        for name, text in filters.items():
            self.gearlog.memory.keep_filter(ONLY + name, text.strip())
        self.leave_record()
        self.renew()

    def renew(self) -> None:
        """Rows and record anew, and what narrows them."""
        words = only_words(self.filters, self.only)
        line = self.query_one("#only", Static)
        line.display = bool(words)
        line.update(content(f"Only {words}.  n changes it, esc shows all.") if words else "")
        super().renew()

    def _clear(self) -> None:
        """Take away all that narrows."""
        if self.only:
            for name in self.only:
                self.gearlog.memory.keep_filter(ONLY + name, "")
            self.renew()
        super()._clear()

    def action_back(self) -> None:
        """From the record to the list, from what narrows it to the whole diary."""
        if self.only and not self.reading and not self.filter_line.typing:
            self._clear()
            self.list.focus()
        else:
            super().action_back()

    # The record

    def describe(self, record_id: str, width: int) -> Content:
        """The record."""
        return as_content(self._page(record_id, width).lines(width))

    def _page(self, splice_id: str, width: int) -> SplicePage:
        diary, settings = self.book.diary, self.book.settings
        row = next(row for row in diary.rows() if row.splice.id == splice_id)
        splice = row.splice
        versions = diary.versions(splice_id)
        tape = Tape(settings.unit is Unit.IMPERIAL, settings.tape_parts)
        return SplicePage(
            splice=splice,
            rope=f"{row.tag}, {row.rope_name}" if row.tag else "a rope no longer in the log",
            method=row.method_title,
            compared=diary.comparison(splice),
            drawing=self._drawing(splice, width),
            versions=versions,
            versions_shown=self._old,
            tags={one.rope_id: _tag(one, self.book) for one in versions},
            tests=self.book.strength.of(splice_id),
            mbs_n=_stated(splice, self.book),
            tape=tape,
        )

    def _drawing(self, splice: Splice, width: int) -> Sequence[str]:
        if splice.plan is None or width < LEAST_DRAWING:
            return ()
        return self.book.planner.draw(splice.plan, width)


def only_words(fields: Sequence[Field], only: Mapping[str, str]) -> str:
    """What narrows the diary, in words."""
    return "; ".join(f"{field.label} {_chosen(field, only[field.name])}" for field in fields if field.name in only)


def _chosen(field: Field, text: str) -> str:
    if field.kind not in {FieldKind.CHOICE, FieldKind.CHOICES}:
        return text
    known = dict(field.choices)
    return " or ".join(known.get(word.strip(), word.strip()) for word in text.split(","))


def _tag(splice: Splice, book: Book) -> str:
    try:
        return book.gear.item(splice.rope_id).tag
    except NotFoundError:
        return "a rope no longer in the log"


def _stated(splice: Splice, book: Book) -> float | None:
    """The rope's breaking strength as the plan knew it, else as its record tells it (N)."""
    if splice.plan is not None and splice.plan.inputs.rope.mbs_n is not None:
        return splice.plan.inputs.rope.mbs_n
    try:
        strength = book.gear.item(splice.rope_id).breaking_strength
    except NotFoundError:
        return None
    return strength.si if strength else None


def _outcome(row: SpliceRow) -> str:
    return label(row.outcome).removeprefix("usable ")


def _style(row: SpliceRow) -> str:
    return "bad" if row.outcome in BAD else "" if row.outcome is Outcome.GOOD else "warn"
