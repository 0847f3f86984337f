"""Rows of the diary: made once for each state of the log, and only for the splices that changed."""

from __future__ import annotations

from collections.abc import Iterable

from gearlog.domain.item import Item
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, label
from gearlog.services.indexes import newest_first
from gearlog.services.shelf import Shelf
from gearlog.services.views import SpliceRow
from gearlog.services.workshop import Workshop
from gearlog.storage.loading import quiet


class DiaryRows:
    """The rows, kept between two looks."""

    def __init__(self, shelf: Shelf, workshop: Workshop) -> None:
        self._shelf = shelf
        self._workshop = workshop
        self._version: int | None = None
        self._all: tuple[SpliceRow, ...] = ()
        self._newest: tuple[tuple[int, int], tuple[SpliceRow, ...]] | None = None
        self._made: dict[str, tuple[Item | None, SpliceRow]] = {}

    def all(self) -> tuple[SpliceRow, ...]:
        """Every splice's row, newest first."""
        version = self._shelf.store.version
        if version != self._version:
            with quiet():
                self._all = self._ordered(self._shelf.splices())
            self._version = version
        return self._all

    def newest(self, most: int) -> tuple[SpliceRow, ...]:
        """The rows of the splices made last; the rest of the diary is not read for it."""
        version = self._shelf.store.version
        if version == self._version:
            return self._all[:most]
        if self._newest is None or self._newest[0] != (version, most):
            rows = self._ordered(reversed(self._shelf.newest_splices(most)))
            self._newest = ((version, most), rows)
        return self._newest[1]

    def of(self, rope_id: str) -> tuple[SpliceRow, ...]:
        """The rows of one rope, newest first."""
        return self._ordered(self._shelf.splices_of(rope_id))

    def _ordered(self, splices: Iterable[Splice]) -> tuple[SpliceRow, ...]:
        items = self._shelf.items_by_id()
        return tuple(self._row(splice, items.get(splice.rope_id)) for splice in newest_first(splices))

    def _row(self, splice: Splice, rope: Item | None) -> SpliceRow:
        made = self._made.get(splice.id)
        if made is None or made[0] is not rope or made[1].splice is not splice:
            row = splice_row(splice, rope, self._workshop.title(splice))
            made = self._made[splice.id] = (rope, row)
        return made[1]


def splice_row(splice: Splice, rope: Item | None, method_title: str) -> SpliceRow:
    """One splice's row; a rope that is not in the log has no tag."""
    tag, name = (rope.tag, rope.name) if rope else ("", "")
    return SpliceRow(
        splice=splice,
        tag=tag,
        rope_name=name,
        method_title=method_title,
        made_on=splice.made_on,
        end=_end(splice),
        outcome=splice.outcome,
        search=_search(splice, (tag, name, method_title)),
    )


def _end(splice: Splice) -> str:
    if splice.end is End.BETWEEN:
        return f"at {splice.position}" if splice.position else "between"
    return splice.end.value


def _search(splice: Splice, known: Iterable[str]) -> str:
    parts = [
        *known, splice.method, splice.made_on.text, label(splice.outcome), label(splice.condition), splice.made_by,
        splice.checked_by, *splice.tools, *splice.difficulties, splice.difficulty_words, splice.notes,
    ]  # fmt: skip
    return "\n".join(part for part in parts if part).lower()
