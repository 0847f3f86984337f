"""The app: opens on the screen last used, knows the ways between screens, tells errors, remembers the state."""

from __future__ import annotations

import gc
import os
from collections.abc import Mapping
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType

from gearlog.domain.vocabulary import Unit
from gearlog.tui.keys import EVERYWHERE, bindings
from gearlog.tui.look import LOOKS, NIGHT, themes
from gearlog.tui.memory import Memory
from gearlog.tui.places import MODES
from gearlog.tui.reading import ReadingApp
from gearlog.tui.telling import LONG
from gearlog.tui.unfinished import unfinished

if TYPE_CHECKING:
    from gearlog.services.book import Book
    from gearlog.services.opening import Opening
    from gearlog.tui.screens.base import MainScreen

TELL_OF_THE_BENCH = frozenset({"today", "bench"})  # places that show by themselves what was left at the bench
FOLLOW = 2.0  # seconds between two looks at a log that another program writes
CALM = 0.4  # seconds after which the first picture surely stands; the slow parts are loaded then
SOON = 0.5  # seconds between a change of the state and its writing; a burst of letters is written once


class GearlogApp(ReadingApp):
    """The screens over one log, which is open or being opened.

    What screens use: ``book``; ``memory`` (chosen records, filters, drafts); ``go``; ``tell``; ``attempt``.
    """

    TITLE = "gearlog"
    MODES: ClassVar = dict(MODES)
    BINDINGS: ClassVar[list[BindingType]] = bindings(EVERYWHERE)
    CSS_PATH = "app.tcss"
    ENABLE_COMMAND_PALETTE = True

    memory: Memory

    def __init__(self, book: Book | None, opening: Opening | None = None) -> None:
        if os.environ.get("NO_COLOR") == "":
            del os.environ["NO_COLOR"]  # empty means colour, by the convention's own words
        super().__init__(book, opening, ansi_color=True if os.environ.get("NO_COLOR") else None)
        self._keeping = False
        for theme in themes():
            self.register_theme(theme)
        self.theme = self.seen.theme if self.seen.theme in LOOKS else "day"
        if book is not None:
            self.take(book)

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Our colours by name, so that the styles hold before a theme is chosen."""
        return dict(NIGHT)

    def take(self, book: Book) -> None:
        """Stand on a log that is open."""
        super().take(book)
        self.memory = Memory(book, self._keep_soon)

    def warn(self, found: tuple[str, ...]) -> None:
        """Tell it, a line each, long enough to be read."""
        if found:
            self.tell("\n".join(found), "warning", seconds=LONG)

    def begin(self) -> None:
        """Tell what was found on opening, and load the slow parts once the screen stands."""
        left = () if self.first_place in TELL_OF_THE_BENCH else self.book.bench.open_views()
        self.warn((*self.book.notices, *unfinished(left)))
        self.set_timer(CALM, self._warm)
        if self.book.read_only:
            self.set_interval(FOLLOW, self._follow)

    def _follow(self) -> None:
        """Show what the program that holds the log has written meanwhile."""
        from gearlog.tui.screens.base import MainScreen

        if self.attempt(self.book.refresh) and isinstance(self.screen, MainScreen):
            self.screen.renew_if_changed()

    def _warm(self) -> None:
        from gearlog.units import convert

        if not gc.isenabled():
            gc.freeze()
            gc.enable()
        self.run_worker(convert.warm, thread=True, group="warm", exit_on_error=False)

    @property
    def log_words(self) -> str:
        """Which log this is and how it is open, for the top line."""
        name = "sample log" if self.book.is_sample else (self.book.folder.name if self.book.folder else "")
        return ", ".join(part for part in ("READ-ONLY" if self.book.read_only else "", name) if part)

    # The ways between screens

    def go(self, place: str, *, chosen: str = "", form: Mapping[str, str] | None = None) -> None:
        """Go to today, gear, splices, planner, bench or audit; show a record there, or fill its form."""
        from gearlog.tui.screens.base import Wish

        if place == "bench":
            self.clear_notifications()  # its words are read from afar, and nothing may lie over them
        self.switch_mode(place)
        self.memory.keep_screen(place)
        if chosen or form is not None:
            self._main_screen().wish(Wish(chosen, form))

    def _main_screen(self) -> MainScreen:
        """The main screen of the present mode; what lies over it is put away, its draft is kept."""
        from gearlog.tui.screens.base import OPEN_FORM, MainScreen

        if len(self.screen_stack) > 1:
            self.memory.choose(OPEN_FORM, "")
        while len(self.screen_stack) > 1:
            self.pop_screen()
        screen = self.screen
        assert isinstance(screen, MainScreen)  # noqa: S101 (the modes are made above)
        return screen

    def action_go(self, place: str) -> None:
        """Go to a main screen."""
        self.go(place)

    def action_bench(self) -> None:
        """Go to the bench, with what the present screen has for it."""
        take = getattr(self.screen, "to_bench", None)
        self.go("bench") if take is None else take()

    # Finding anything

    def action_find(self) -> None:
        """Find anything by letters or by its tag."""
        from gearlog.tui.dialogs.find import FindDialog, everything
        from gearlog.tui.screens.base import GearlogScreen

        if isinstance(self.screen, GearlogScreen):
            self.push_screen(
                FindDialog(everything(self.book)),
                lambda found: self.go(found.place, chosen=found.record_id, form=found.form) if found else None,
            )

    @property
    def takes_commands(self) -> bool:
        """On every screen of ours, while no text is typed; not in a question."""
        from gearlog.tui.screens.base import GearlogScreen

        return isinstance(self.screen, GearlogScreen) and not getattr(self.focused, "TAKES_LETTERS", False)

    def knows_tag(self, text: str) -> bool:
        """Whether an item or a kit bears it."""
        from gearlog.tui.dialogs.find import tagged

        return tagged(self.book, text) is not None

    def go_to_tag(self, tag: str) -> None:
        """Show the item's card, or the kit."""
        from gearlog.tui.dialogs.find import tagged

        found = tagged(self.book, tag)
        if found is not None:
            self.go(found.place, chosen=found.record_id, form=found.form)

    # Remembering

    def _keep_soon(self) -> None:
        if not self._keeping:
            self._keeping = True
            self.set_timer(SOON, self._keep_now)

    def _keep_now(self) -> None:
        self._keeping = False
        if hasattr(self, "memory"):
            self.memory.flush()

    async def action_quit(self) -> None:
        """Leave; what was typed is kept first, and it is asked where that cannot be."""
        from gearlog.tui.leaving import leave

        self._keep_now()
        leave(self)

    def on_unmount(self) -> None:
        """However one leaves, what was typed is kept."""
        from gearlog.tui.leaving import put_what_is_left

        self._keep_now()
        put_what_is_left(self)

    # Keys that work everywhere

    def action_help(self) -> None:
        """Show the help of the present screen; once more closes it."""
        from gearlog.tui.dialogs.help import HelpDialog
        from gearlog.tui.screens.base import GearlogScreen

        screen = self.screen
        if isinstance(screen, HelpDialog):
            screen.action_back()
        elif isinstance(screen, GearlogScreen):
            self.push_screen(HelpDialog(screen.TOPIC or screen.PLACE.title(), screen.HELP, screen.keys_place))

    def action_command_palette(self) -> None:
        """Show everything that can be done here, to be found by typing."""
        from gearlog.tui.palette import show_palette
        from gearlog.tui.screens.base import GearlogScreen

        if isinstance(self.screen, GearlogScreen):
            show_palette(self, self.screen)

    def action_theme(self) -> None:
        """Change between day and night."""
        self.theme = "night" if self.theme == "day" else "day"
        self.attempt(lambda: self.book.keep(theme=self.theme))

    def action_units(self) -> None:
        """Change between metric and imperial."""
        from gearlog.tui.screens.base import MainScreen

        unit = Unit.IMPERIAL if self.book.settings.unit is Unit.METRIC else Unit.METRIC
        self.attempt(lambda: self.book.keep(unit=unit))
        main = self.screen_stack[0]  # what lies over it, such as a form being typed into, stays open
        if isinstance(main, MainScreen):
            main.renew()


def run_screens(opening: Opening) -> int:
    """Show the screens until the user leaves; returns the exit code, 0 when all went well.

    Raises what opening the log raised.
    """
    try:
        app = GearlogApp(opening.soon(), opening)
        app.run()
    finally:
        opening.leave()
    if app.fault is not None:
        raise app.fault
    return app.return_code or 0
