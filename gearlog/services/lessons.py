"""What is asked again and again of the whole diary, kept between two questions and made anew only where it changed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import StrengthTest
from gearlog.storage.loading import quiet

if TYPE_CHECKING:
    from gearlog.recall import Columns
    from gearlog.services.shelf import Shelf

Tests = Mapping[str, tuple[StrengthTest, ...]]


class Lessons:
    """The diary in columns, and the tests of strength by splice."""

    def __init__(self, shelf: Shelf) -> None:
        self._shelf = shelf
        self._columns: tuple[tuple[Splice, ...], Columns] | None = None
        self._tests: tuple[tuple[StrengthTest, ...], tuple[Splice, ...], Tests] | None = None

    def columns(self) -> Columns:
        """The newest versions of all splices, ready to be asked; what did not change is taken over."""
        from gearlog.recall import Columns

        source = self._shelf.store.records(Splice)
        kept = self._columns
        if kept is None or kept[0] is not source:
            with quiet():
                kept = self._columns = (source, Columns(self._shelf.splices(), kept[1] if kept else None))
        return kept[1]

    def tests(self) -> Tests:
        """The standing tests of strength, newest first, by the newest version of their splice."""
        tests, splices = self._shelf.store.records(StrengthTest), self._shelf.store.records(Splice)
        kept = self._tests
        if kept is None or kept[0] is not tests or kept[1] is not splices:
            kept = self._tests = (tests, splices, self._by_splice(tests))
        return kept[2]

    def newest(self, splice_id: str) -> str:
        """The id of a splice's newest version; a ring of corrections, which only damage makes, ends where it began."""
        seen = {splice_id}
        while (later := self._shelf.corrected_by(splice_id)) and later not in seen:
            splice_id = later
            seen.add(later)
        return splice_id

    def _by_splice(self, tests: tuple[StrengthTest, ...]) -> Tests:
        groups: dict[str, list[StrengthTest]] = {}
        for test in sorted(tests, key=lambda test: test.tested_on.latest(), reverse=True):
            if not test.struck_because:
                groups.setdefault(self.newest(test.splice_id), []).append(test)
        return {splice_id: tuple(group) for splice_id, group in groups.items()}
