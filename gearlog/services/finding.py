"""Finding an item by a few letters or a scanned tag."""

from __future__ import annotations

from collections.abc import Sequence

from gearlog.domain.item import Item
from gearlog.services.reading_forms import BLANKS
from gearlog.services.views import GearRow


def found(text: str, rows: Sequence[GearRow], bearer: Item | None) -> tuple[GearRow, ...]:
    """The rows that ``text`` may mean, the likeliest first.

    Args:
        text: letters of a tag, a serial or a name in any order, or a whole tag as a scanner types it.
        rows: every item.
        bearer: the item that bears the text as its tag, also as a former one: it is found alone.
    """
    if bearer is not None:
        return tuple(row for row in rows if row.item.id == bearer.id)
    words = text.strip(BLANKS).lower().split()
    if not words:
        return ()
    hits = [(_rank(row, words), place, row) for place, row in enumerate(rows) if _has_all(row, words)]
    return tuple(row for _, _, row in sorted(hits, key=lambda hit: hit[:2]))


def _has_all(row: GearRow, words: Sequence[str]) -> bool:
    return all(word in row.search for word in words)


def _rank(row: GearRow, words: Sequence[str]) -> int:
    """How likely it is meant: a serial as typed, then a tag or a name that begins so, then any other place."""
    whole = " ".join(words)
    order = (
        row.item.serial.lower() == whole,
        row.tag.lower().startswith(whole),
        row.name.lower().startswith(whole),
        all(word in row.tag.lower() for word in words),
        all(word in row.name.lower() for word in words),
    )
    return next((place for place, hit in enumerate(order) if hit), len(order))
