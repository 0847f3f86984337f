"""What the main screens share: the two bars, the way in, and being up to date when one comes back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar, Generic, TypeVar, cast

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from gearlog.tui.screens.taking_back import TakesBack
from gearlog.tui.widgets.bars import KeyLine, TopLine

if TYPE_CHECKING:
    from gearlog.services.book import Book
    from gearlog.tui.app import GearlogApp

Answer = TypeVar("Answer")
OPEN_FORM = "form"
"""Under this name the draft is remembered whose form is open; it is opened again at the next start."""


@dataclass(frozen=True)
class Wish:
    """With what in mind a screen is entered.

    Attributes:
        chosen: id of the record to show, or empty.
        form: text for the screen's form, or None.
    """

    chosen: str = ""
    form: Mapping[str, str] | None = field(default=None)


class GearlogScreen(Screen[Answer], Generic[Answer]):
    """A screen with the top line and the key line; ``parts`` yields what lies between.

    Attributes:
        PLACE: name of the main screen it belongs to: today, gear, splices, planner, bench or audit.
        KEYS: name of its row of keys in ``keys.py``; the footer and the help follow it.
        HELP: what one can do here, in a few sentences; plain text.
        TOPIC: what the help is titled by, where that is not the main screen: a page over it, opened from there.
    """

    PLACE: ClassVar[str] = ""
    KEYS: ClassVar[str] = ""
    HELP: ClassVar[str] = ""
    TOPIC: ClassVar[str] = ""
    AUTO_FOCUS = ""

    @property
    def gearlog(self) -> GearlogApp:
        """The app, by its own type."""
        return cast("GearlogApp", self.app)

    @property
    def book(self) -> Book:
        """The log."""
        return self.gearlog.book

    @property
    def keys_place(self) -> str:
        """Which row of keys holds now; screens with several views override it."""
        return self.KEYS

    def compose(self) -> ComposeResult:
        """The bars around the parts."""
        yield TopLine(self.PLACE, self.gearlog.log_words)
        yield from self.parts()
        yield KeyLine(self.keys_place)

    def parts(self) -> ComposeResult:
        """What lies between the two bars."""
        yield from ()

    def on_descendant_focus(self) -> None:
        """The key line names only keys that work where the focus is."""
        self.renew_keys()

    def on_descendant_blur(self) -> None:
        """The same when nothing is in focus any more."""
        self.renew_keys()

    def renew_keys(self) -> None:
        """Bring the key line up to date."""
        for line in self.query(KeyLine):
            line.place = self.keys_place
            line.typing = getattr(self.focused, "TAKES_LETTERS", False)


class MainScreen(TakesBack, GearlogScreen[None]):
    """One of the places. ``renew`` redraws from the book, ``arrive`` takes a wish."""

    _wish: Wish | None = None
    _version: int | None = None
    _entered = False

    def wish(self, wish: Wish) -> None:
        """Enter with this in mind, now or as soon as the screen stands."""
        self._wish = wish
        if self.is_mounted and self.is_current:
            self._come_in()

    def on_screen_resume(self, event: events.ScreenResume) -> None:
        """Redraw when the log changed meanwhile, then do what one came for."""
        self.call_after_refresh(self._come_in)

    def _come_in(self) -> None:
        self.renew_if_changed()
        wish, self._wish = self._wish, None
        if wish is not None:
            self.arrive(wish)
        elif not self._entered:
            self._reopen_left()
        self._entered = True

    def _reopen_left(self) -> None:
        draft = self.gearlog.memory.chosen(OPEN_FORM)
        if draft.startswith(f"{self.PLACE}.") and self.gearlog.memory.draft(draft) is not None:
            self.reopen(draft)

    def renew_if_changed(self) -> None:
        """Redraw when the log is not as it was drawn."""
        version = self.book.version
        if version != self._version:
            self._version = version
            self.renew()

    def rope_at_hand(self) -> str:
        """The tag of the rope that one is looking at, or empty."""
        return ""

    def action_compare(self) -> None:
        """Put two ropes side by side, the one at hand first."""
        from gearlog.tui.screens.compare import compare_ropes

        compare_ropes(self, self.rope_at_hand())

    def to_bench(self) -> None:
        """Go to the bench; a screen that has something for it takes it there."""
        self.gearlog.go("bench")

    def reopen(self, draft: str) -> None:
        """Open the form with this draft again, which was open when the program was left."""

    def renew(self) -> None:
        """Draw everything from the book anew; the chosen record stays chosen."""

    def arrive(self, wish: Wish) -> None:
        """Show what one came for."""
