"""The first and the last line of every screen: where one is, and what the keys do."""

from __future__ import annotations

from rich.cells import cell_len
from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from gearlog.tui.keys import FOOTERS, key_at
from gearlog.tui.text import cell

PLACES = ("today", "gear", "splices", "planner", "bench", "audit")
LEAST_WORDS = 6  # cells; less of the log's name tells nothing
ROOMY = 70  # cells from which the places stand apart
PICKING = {"choice", "ticks"}  # where keys pick, which in a line of text move or type
HELP = ("?", "help")
HELP_TYPING = ("f1", "help")


class TopLine(Widget):
    """The places with the present one marked, and at the right which log this is and how it is open."""

    DEFAULT_CSS = "TopLine { dock: top; height: 1; background: $raised; color: $quiet; }"

    def __init__(self, place: str, log_words: str) -> None:
        super().__init__()
        self.place = place
        self.log_words = log_words  # for example 'READ-ONLY, sample log'

    def render(self) -> Content:
        """One line; the log's name gives way to the places."""
        between = " " if self.size.width >= ROOMY else ""
        places = Content(between).join(self._place(number, place) for number, place in enumerate(PLACES, 1))
        room = self.size.width - places.cell_length - 2
        return Content.assemble(
            " ", places, cell(f"{self.log_words} ", room, right=True) if room >= LEAST_WORDS else ""
        )

    def _place(self, number: int, place: str) -> Content:
        here = place == self.place
        words = f"[{number} {place.title()}]" if here else f" {number} {place.title()} "
        return Content.styled(words, "$accent bold") if here else Content(words)


class KeyLine(Widget):
    """The most important keys of the screen, one line, and where the help is; never wraps.

    While text is typed only keys that text fields let pass are named.
    """

    DEFAULT_CSS = "KeyLine { dock: bottom; height: 1; background: $raised; color: $quiet; }"

    place: reactive[str] = reactive("")
    typing: reactive[bool] = reactive(default=False)

    def __init__(self, place: str) -> None:
        super().__init__()
        self.set_reactive(KeyLine.place, place)

    def render(self) -> Content:
        """As many keys as fit; the help always does."""
        pairs = [pair for name in FOOTERS.get(self.place, ()) if (pair := self._pair(name))]
        last = HELP_TYPING if self.typing else HELP
        while len(pairs) > 1 and _length([*pairs, last]) > self.size.width:
            pairs.pop()
        return Content.assemble(" ", Content("  ").join(_written(*pair) for pair in [*pairs, last]))

    def _pair(self, name: str) -> tuple[str, str] | None:
        row = key_at(name, self.place)
        keys = row.shown.split(" or ")
        if self.typing and set(row.where) <= PICKING:
            return None
        if self.typing:
            keys = [shown for shown in keys if len(shown) > 1]
        return (keys[0], row.words) if keys else None


def _length(pairs: list[tuple[str, str]]) -> int:
    return sum(cell_len(shown) + cell_len(words) + 3 for shown, words in pairs)


def _written(shown: str, words: str) -> Content:
    return Content.assemble(Content.styled(shown, "$ink bold"), " ", words)
