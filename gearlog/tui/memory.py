"""What the screens remember between two starts: kept at once in memory, written to the log's settings soon after."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from gearlog.errors import GearlogError

if TYPE_CHECKING:
    from gearlog.services.book import Book


class Memory:
    """Screen, chosen records, filters and drafts of forms.

    ``later`` is called when something changed and should be written soon; ``flush`` writes it.
    """

    def __init__(self, book: Book, later: Callable[[], None]) -> None:
        self._book = book
        self._later = later
        self._changes: dict[str, Any] = {}
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
        self._note(drafts=dict(self._drafts))

    def drop_draft(self, form: str) -> None:
        """Forget a form, because it was saved or begun afresh."""
        if self._drafts.pop(form, None) is not None:
            self._note(drafts=dict(self._drafts))

    def keep_screen(self, place: str) -> None:
        """Remember the screen shown last."""
        self._note(screen=place)

    def flush(self) -> None:
        """Write what changed; a read-only log keeps nothing, which is no fault worth a word."""
        changes, self._changes = self._changes, {}
        if not changes:
            return
        try:
            self._book.keep(**changes)
        except GearlogError:
            return
