"""Which rope for this job: two ropes side by side, from the log or in words."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, ClassVar

from textual.binding import BindingType

from gearlog.services.typed_ropes import EXAMPLE
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.dialogs.reason import ReasonDialog
from gearlog.tui.keys import bindings
from gearlog.tui.screens.base import GearlogScreen
from gearlog.tui.screens.page_over import PageOver
from gearlog.tui.widgets.compare_page import compare_page, names_lines
from gearlog.tui.widgets.planning import rope_choices

if TYPE_CHECKING:
    from gearlog.domain.ropes_compared import RopesCompared

IN_WORDS = ("?", "a rope that is not in the log, in words")
"""The choice that asks for words; no tag holds a question mark alone."""
Then = Callable[[str], None]
"""What goes on with a rope as it was said: a tag, or words."""


def ask_rope(screen: GearlogScreen[Any], title: str, then: Then, *, but: str = "") -> None:
    """Let a rope be chosen from the log or said in words, then go on with it; ``but`` is not offered."""
    rows = {row.item.id: row.tag for row in screen.book.gear.rows()}
    choices = [choice for choice in rope_choices(screen.book.gear.rows()) if rows[choice[0]] != but]

    def chosen(item_id: str | None) -> None:
        if item_id == IN_WORDS[0]:
            ask_words(screen, title, then)
        elif item_id:
            then(rows[item_id])

    screen.app.push_screen(ChooseDialog(title, (*choices, IN_WORDS)), chosen)


def ask_words(screen: GearlogScreen[Any], title: str, then: Then, start: str = "") -> None:
    """Let a rope be said in words; what does not read is told and can be mended."""

    def said(words: str | None) -> None:
        if words is None:
            return
        if screen.gearlog.attempt(lambda: screen.book.planner.compare(words, words)) is None:
            ask_words(screen, title, then, words)
        else:
            then(words)

    screen.app.push_screen(ReasonDialog(title, f"Say it such as {EXAMPLE}.", hint="a rope in words", start=start), said)


def compare_ropes(screen: GearlogScreen[Any], first: str) -> None:
    """Put two ropes side by side; ``first`` is the tag of one, or empty."""

    def with_first(one: str) -> None:
        ask_rope(screen, "Which rope beside it?", lambda other: show(one, other), but=one)

    def show(one: str, other: str) -> None:
        if screen.gearlog.attempt(lambda: screen.book.planner.compare(one, other)) is not None:
            screen.app.push_screen(CompareScreen(one, other, screen.PLACE))

    if first:
        with_first(first)
    else:
        ask_rope(screen, "Which rope first?", with_first)


class CompareScreen(PageOver):
    """The two ropes; another one can be taken for either."""

    KEYS = "compare"
    TOPIC = "Two ropes side by side"
    BINDINGS: ClassVar[list[BindingType]] = bindings("compare")
    HELP = (
        "Two ropes side by side: what hangs aloft at 60 m and 90 m, diameter, what carries the load, strength, what "
        "can be spliced, and how the last splices in them and in ropes like them came out. = takes another rope beside "
        "the first, ctrl+t another first one. What is not known is said; a mass that is estimated says from what."
    )

    def __init__(self, first: str, second: str, place: str) -> None:
        super().__init__(place)
        self.first, self.second = first, second

    def begin(self) -> None:
        """Show both."""
        self._take(self.first, self.second)

    def _take(self, first: str, second: str) -> None:
        both = self.gearlog.attempt(lambda: self.book.planner.compare(first, second))
        if both is not None:
            self.first, self.second = first, second
            self._show(both)

    def _show(self, both: RopesCompared) -> None:
        settings = self.book.settings
        carrying = {method.id for method in self.book.planner.methods() if method.carries}

        self.show_page(
            lambda width: names_lines(both, width),
            lambda width: compare_page(both, settings, carrying, width),
            from_top=True,
        )

    def action_compare(self) -> None:
        """Take another rope beside the first."""
        ask_rope(self, "Which rope beside it?", lambda said: self._take(self.first, said), but=self.first)

    def action_take(self) -> None:
        """Take another first rope."""
        ask_rope(self, "Which rope first?", lambda said: self._take(said, self.second), but=self.second)
