"""Text that flows down one page and on to the next."""

from __future__ import annotations

from collections.abc import Iterable

from gearlog.reports.paper import faces
from gearlog.reports.paper.leaf import MARGIN, Leaf, Mark, Size, Words

TEXT = 7.5  # points; read at arm's length in a print, and eight items a page
LEADING = 1.22  # line's height over its size
HEADING = 10.5
TITLE = 17.0
FOOT_ROOM = 22.0  # points at the foot of each page
GAP = 5.0


class Flow:
    """Pages being filled from above.

    Attributes:
        leaves: the pages, the last one unfinished.
        y: how far down the last page is filled.
        running: what the next pages tell at their head, because what is on them began earlier; or empty.
        left: where its text begins; ``room`` is how wide it is.
    """

    def __init__(self, size: Size) -> None:
        self.size = size
        self.left = MARGIN
        self.room = size.width - 2 * MARGIN
        self.bottom = size.height - MARGIN - FOOT_ROOM
        self.leaves: list[list[Mark]] = [[]]
        self.y = MARGIN
        self.running = ""
        self._begun = 0  # marks of the last page's head

    def pages(self) -> tuple[Leaf, ...]:
        """All pages."""
        return tuple(self.leaves)

    @property
    def depth(self) -> float:
        """How high the text of a whole page is."""
        return self.bottom - MARGIN - (TEXT * LEADING + GAP if self.running else 0)

    def put(self, *marks: Mark) -> None:
        """Put marks on the page as it is."""
        self.leaves[-1].extend(marks)

    def turn(self) -> None:
        """Begin a new page, unless this one is still empty."""
        if len(self.leaves[-1]) == self._begun:
            return
        self.leaves.append([])
        self.y = MARGIN
        if self.running:
            line = faces.broken(self.running, self.room, TEXT, faces.BOLD)[:1]
            self.put(Words(self.left, self.y + TEXT, line, TEXT, faces.BOLD))
            self.y += TEXT * LEADING + GAP
        self._begun = len(self.leaves[-1])

    def need(self, height: float) -> None:
        """Begin a new page where less than ``height`` is left."""
        if self.y + height > self.bottom:
            self.turn()

    def text(self, text: str, *, size: float = TEXT, face: str = faces.PLAIN, inset: float = 0.0) -> None:
        """Lines of text over the whole width."""
        for line in faces.broken(text, self.room - inset, size, face):
            self.need(size * LEADING)
            self.y += size * LEADING
            self.put(Words(self.left + inset, self.y - size * (LEADING - 1), (line,), size, face))

    def heading(self, text: str, *, size: float = HEADING, keep: float = 4 * HEADING) -> None:
        """A heading that stays with the first ``keep`` points of what follows."""
        self.need(size * LEADING + GAP + keep)
        self.gap(2 * GAP if len(self.leaves[-1]) > self._begun else 0)
        self.text(text, size=size, face=faces.BOLD)
        self.gap(GAP / 2)

    def lines(self, texts: Iterable[str], *, inset: float = 0.0) -> None:
        """A paragraph a text."""
        for text in texts:
            self.text(text, inset=inset)

    def gap(self, height: float = GAP) -> None:
        """Leave white."""
        self.y += height
