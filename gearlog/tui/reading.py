"""While a long log is being read: a picture that says so and shows nothing else, and keys that wait for the log."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.events import Event, Key, Paste
from textual.screen import Screen
from textual.widgets import Static

from gearlog.domain.settings import Settings
from gearlog.tui.places import load
from gearlog.tui.scanner import ScanningApp
from gearlog.tui.widgets.bars import TopLine

if TYPE_CHECKING:
    from gearlog.services.book import Book
    from gearlog.services.opening import Opening

READING = "Reading the log. What is due is shown as soon as it is read."
KEYS_WAIT = " Keys pressed now are kept until then.  q quit"
LEAVES = "ctrl+q"  # leaves at once, whatever was pressed before it
LEAVES_FIRST = "q"  # leaves where nothing was pressed before it; else it may be a letter of a word


class ReadingScreen(Screen[None]):
    """Says that the log is being read, and in its top line which one."""

    DEFAULT_CSS = """
    ReadingScreen > #reading { padding: 1 2; text-style: bold; }
    ReadingScreen > #wait { dock: bottom; height: 1; background: $raised; color: $quiet; }
    """

    def __init__(self, place: str, name: str) -> None:
        super().__init__()
        self._place = place
        self._log = name

    def compose(self) -> ComposeResult:
        """The two bars, and one sentence between them."""
        yield TopLine(self._place, self._log)
        yield Static(READING, id="reading")
        yield Static(KEYS_WAIT, id="wait")


class ReadingApp(ScanningApp):
    """An app over a log that may still be being read.

    Attributes:
        book: the log, once it is open.
        seen: the settings as they were found before the log was open.
        first_place: the name of the screen to begin with, the one last used.
        fault: why the log could not be opened, once that is known; the app has left then.
    """

    book: Book

    def __init__(self, book: Book | None, opening: Opening | None, *, ansi_color: bool | None = None) -> None:
        known = book.settings if book is not None else opening.seen.settings if opening is not None else None
        self.seen = known or Settings()
        self.first_place = self.seen.screen if self.seen.screen in self.MODES else "today"
        if book is not None:
            self.DEFAULT_MODE = self.first_place  # type: ignore[misc]  # else our default screen comes first
        super().__init__(ansi_color=ansi_color)
        self.fault: Exception | None = None
        self._opening = opening if book is None else None
        self._kept: list[Key | Paste] = []

    def take(self, book: Book) -> None:
        """Stand on a log that is open."""
        self.book = book

    def warn(self, found: tuple[str, ...]) -> None:
        """Tell what was found on opening, together with the first screen that shows anything of the log."""

    def begin(self) -> None:
        """Everything is read, and a screen that tells of it stands."""

    def get_default_screen(self) -> Screen[object]:
        """What stands until the log is read."""
        name = self._opening.seen.name if self._opening else ""
        return ReadingScreen(self.first_place, name)  # type: ignore[return-value]  # nobody takes its result

    def on_mount(self) -> None:
        """Begin at once, or let the log be read as soon as the first picture stands."""
        opening = self._opening
        if opening is None:
            self.begin()
            return
        self.call_after_refresh(self._start_reading)
        opening.tell(lambda: self.call_later(self._log_is_read))

    def _start_reading(self) -> None:
        """Let the log be read; its bytes come while the first screen is loaded."""
        if self._opening is not None:
            self._opening.go_on()
            load(self.first_place)

    async def on_event(self, event: Event) -> None:
        """Keys wait for the log, but for those that leave."""
        if self._opening is None or not isinstance(event, Key | Paste) or event.is_forwarded:
            await super().on_event(event)
        elif isinstance(event, Key) and event.key in self._leaving:
            self.exit()
        else:
            self._kept.append(event)

    @property
    def _leaving(self) -> tuple[str, ...]:
        return (LEAVES,) if self._kept else (LEAVES, LEAVES_FIRST)

    async def _log_is_read(self) -> None:
        """Show the log, or leave where it could not be opened: why is told where the program was called."""
        if self._opening is None:
            return
        try:
            book = self._opening.result()
        except Exception as error:
            self.fault = error
            self.exit()
            return
        self.take(book)
        await self.switch_mode(self.first_place)
        self.warn(book.found)
        self.run_worker(self._read_rest, thread=True, group="rest", exit_on_error=False)
        self.call_after_refresh(self._let_keys_go)

    def _read_rest(self) -> None:
        self.book.read_rest()
        self.call_from_thread(self.begin)

    async def _let_keys_go(self) -> None:
        """What was pressed meanwhile is done now, in its order, as if it were pressed now."""
        kept, self._kept, self._opening = self._kept, [], None
        for event in kept:
            await self.on_event(event)
