"""What stands beside a splice's record: its photos, its tests of strength, and what splices like it teach."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePath

from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import StrengthTest
from gearlog.domain.vocabulary import label
from gearlog.tui.dialogs.choose import Choice, ChooseDialog
from gearlog.tui.dialogs.reason import ReasonDialog
from gearlog.tui.screens.learn import LearnScreen, form_like
from gearlog.tui.screens.splices_list import SplicesList
from gearlog.tui.viewer import show

ADD_ONE = ("+", "add a photo by its path")


class SplicesBeside(SplicesList):
    """The diary with photos, tests and lessons."""

    def _chosen_splice(self) -> Splice | None:
        row = self.list.chosen_row
        return row.splice if row is not None else None

    # Photos

    def action_photos(self) -> None:
        """Show a photo of the splice with the system's viewer, or add one."""
        splice = self._chosen_splice()
        if splice is not None:
            choices = (*_photo_choices(splice.photos), ADD_ONE)
            self.app.push_screen(ChooseDialog("Which photo?", choices, choices[0][0]), self._photo_taken)

    def _photo_taken(self, value: str | None) -> None:
        splice = self._chosen_splice()
        if value == ADD_ONE[0]:
            dialog = ReasonDialog("Add a photo", "It is copied into the log's folder.", hint="path of the picture file")
            self.app.push_screen(dialog, self._photo_added)
        elif value and splice is not None:
            command = self.gearlog.attempt(lambda: self.book.diary.photo_command(splice.photos[int(value)]))
            if command is not None:
                show(self.gearlog, command)

    def _photo_added(self, path: str | None) -> None:
        splice = self._chosen_splice()
        if path and splice is not None:
            made = self.gearlog.attempt(lambda: self.book.diary.add_photo(splice.id, path))
            if made is not None:
                self.shown_again(made.id, "The photo is copied into the log and noted; the version before is kept.")

    def shown_again(self, splice_id: str, told: str) -> None:
        """Show a record that was saved, and say so."""
        self.renew_if_changed()
        if not self.list.choose(splice_id):
            self._clear()
            self.list.choose(splice_id)
        self.gearlog.tell(told)

    # Tests of strength

    def action_strike(self) -> None:
        """Strike out a test of strength, with a reason."""
        splice = self._chosen_splice()
        if splice is None:
            return
        tests = self.book.strength.of(splice.id)
        if not tests:
            self.gearlog.tell("No test of strength is entered for it; a record itself is corrected with e.")
            return
        choices = [(test.id, _test_words(test)) for test in tests]
        self.app.push_screen(ChooseDialog("Strike out which test?", choices, choices[0][0]), self._ask_why)

    def _ask_why(self, test_id: str | None) -> None:
        def strike(reason: str | None) -> None:
            if reason and test_id and self.gearlog.attempt(lambda: self.book.strength.strike(test_id, reason)):
                self.renew_if_changed()
                self.gearlog.tell("Struck out; u takes it back.")

        if test_id:
            dialog = ReasonDialog("Strike out the test", "It counts no more; the log keeps it with the reason.")
            self.app.push_screen(dialog, strike)

    # Lessons

    def action_learn(self) -> None:
        """Show what splices like this one teach."""
        splice = self._chosen_splice()
        if splice is not None:
            form = form_like(self.book, splice)
            self.app.push_screen(LearnScreen(self.PLACE, lambda: form))


def _photo_choices(photos: Sequence[str]) -> tuple[Choice, ...]:
    """Each photo by its number and kind; its name is of use to no one."""
    count = len(photos)
    return tuple(
        (str(place), f"show photo {place + 1} of {count} ({PurePath(name).suffix[1:]})")
        for place, name in enumerate(photos)
    )


def _test_words(test: StrengthTest) -> str:
    return f"{test.tested_on.text}: {label(test.kind)} {test.force.text}, {label(test.failed_at)}"
