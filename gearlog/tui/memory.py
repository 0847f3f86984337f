"""What the screens remember between two starts: kept at once in memory, written to the log's settings soon after."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from gearlog.errors import GearlogError

if TYPE_CHECKING:
    from gearlog.services.book import Book

READ_ONLY = "the log can only be read"


class Memory:
    """Screen, chosen records, filters and drafts of forms.

    ``later`` is called when something changed and should be written soon; ``flush`` writes it.

    Attributes:
        trouble: why it could not be written the last time, or empty.
        only_reads: whether the log was opened to be read only.
    """

    def __init__(self, book: Book, later: Callable[[], None]) -> None:
        self._book = book
        self._later = later
        self.trouble = ""
        self.only_reads = book.read_only
        self._changes: dict[str, Any] = {}
        self._unkept: set[str] = set()
        self._chosen = dict(book.settings.chosen)
        self._filters = dict(book.settings.filters)
        self._drafts = {name: dict(form) for name, form in book.settings.drafts.items()}

    def _note(self, **changes: object) -> None:
        self._changes.update(changes)
        self._later()

    def chosen(self, place: str) -> str:
        """The id last chosen on a screen, or empty."""
        return self._chosen.get(place, "")

    def choose(self, place: str, record_id: str) -> None:
        """Remember what is chosen on a screen."""
        if self._chosen.get(place, "") != record_id:
            self._chosen[place] = record_id
            self._note(chosen=dict(self._chosen))

    def filter(self, place: str) -> str:
        """The text of a screen's filter, or empty."""
        return self._filters.get(place, "")

    def keep_filter(self, place: str, text: str) -> None:
        """Remember a screen's filter."""
        if self._filters.get(place, "") != text:
            self._filters[place] = text
            self._note(filters=dict(self._filters))

    def draft(self, form: str) -> dict[str, str] | None:
        """What was typed into a form and not saved, field by field; None when there is nothing."""
        kept = self._drafts.get(form)
        return dict(kept) if kept is not None else None

    def keep_draft(self, form: str, values: Mapping[str, str]) -> None:
        """Remember an unfinished form."""
        self._drafts[form] = dict(values)
        self._unkept.add(form)
        self._note(drafts=dict(self._drafts))

    def drop_draft(self, form: str) -> None:
        """Forget a form, because it was saved or begun afresh."""
        self._unkept.discard(form)
        if self._drafts.pop(form, None) is not None:
            self._note(drafts=dict(self._drafts))

    def keep_screen(self, place: str) -> None:
        """Remember the screen shown last."""
        self._note(screen=place)

    def flush(self) -> None:
        """Write what changed; what cannot be written now is tried again the next time."""
        changes = self._changes
        self.trouble = ""
        if not changes:
            return
        try:
            self._book.keep(**changes)
        except GearlogError as error:
            self.trouble = error.message
            return
        if self._book.read_only:
            self.trouble = READ_ONLY
            return
        self._changes = {}
        self._unkept.clear()

    @property
    def unkept(self) -> dict[str, dict[str, str]]:
        """Forms that were typed into and could not be written, by their names."""
        return {name: form for name, form in self._drafts.items() if name in self._unkept} if self.trouble else {}

    def give_up(self) -> None:
        """What could not be written was put elsewhere: nothing is at stake any more."""
        self._unkept.clear()
