"""Two bars of the planner: the pages one can turn to, and how the plan stands."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.widget import Widget

from gearlog.tui.keys import key
from gearlog.tui.text import cell

EDGE = 4  # cells left free at both sides
STYLES = {"STOP": "$bad bold", "NOT CURRENT": "$warn bold", "NO PLAN YET": "$quiet bold"}


def _typing_key(name: str) -> str:
    """The key that works while text is typed."""
    return key(name).shown.split(" or ")[-1]


class PageBar(Widget):
    """The pages, the present one between brackets, and the keys that print and turn them."""

    DEFAULT_CSS = "PageBar { height: 1; color: $quiet; }"

    def __init__(self, pages: Sequence[str]) -> None:
        super().__init__()
        self.pages = tuple(pages)
        self.at = self.pages[0]

    def show(self, page: str) -> None:
        """Mark another page."""
        if page != self.at:
            self.at = page
            self.refresh()

    def render(self) -> Content:
        """One line."""
        names = [Content.styled(f"[{page}]", "$accent bold") if page == self.at else Content(f" {page} ")
                 for page in self.pages]  # fmt: skip
        pages = Content(" ").join(names)
        turn = f"{_typing_key('save')} card  {_typing_key('page')} turns the page "
        return Content.assemble(" ", pages, cell(turn, max(self.size.width - pages.cell_length - 1, 0), right=True))


class PlanBar(Widget):
    """Three lines, always there so that nothing jumps: the state in a word and why, the marks, last time."""

    DEFAULT_CSS = "PlanBar { height: 3; color: $ink; }"

    def __init__(self) -> None:
        super().__init__()
        self._said = ("", "", "")
        self._last = ""

    def show(self, word: str, words: str, figures: str) -> None:
        """Say how the plan stands."""
        if (word, words, figures) != self._said:
            self._said = (word, words, figures)
            self.refresh()

    def tell_last_time(self, words: str) -> None:
        """Say what worked last time; empty while it is being looked up."""
        if words != self._last:
            self._last = words
            self.refresh()

    @property
    def text(self) -> str:
        """What it says, as plain text."""
        return "\n".join((" ".join(self._said[:2]), self._said[2], self._last))

    def render(self) -> Content:
        """The lines, cut to the width."""
        word, words, figures = self._said
        room = max(self.size.width - EDGE, 0)
        first = Content.assemble("  ", (word, STYLES.get(word, "$accent bold")), " ", cell(words, room - len(word) - 1))
        last = f"last time {self._last}" if self._last else ""
        return Content("\n").join(
            [first, Content(f"  {cell(figures, room)}"), Content.styled(f"  {cell(last, room)}", "$quiet")]
        )
