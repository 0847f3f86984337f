"""People's text made safe to show: signs that a terminal would obey are written out, cells counted."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

_OBEYED = frozenset({"Cc", "Cs", "Zl", "Zp"})  # control, half a surrogate pair, line and paragraph separator
_UNSEEN = frozenset(
    "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"  # turn the reading direction
    "\u00ad\u200b\u2060\u2061\u2062\u2063\u2064\ufeff\ufff9\ufffa\ufffb"  # unseen, so they hide differences
)
_NO_CELL = frozenset({"Mn", "Me", "Cf"})  # drawn onto the sign before them, or not at all
_TWO_CELLS = frozenset("WF")  # Unicode East Asian Width: wide and fullwidth
_AMOUNT = re.compile(r"\(?\d[\d.]*(/\d+)?( \d+/\d+)?( (mm|m|in|ft|kN|N|kg|deg|d|%)\)?[.,;:]?)?")
"""A number, whole, decimal or with a fraction, and the unit that follows it."""


def visible(text: str) -> str:
    r"""``text`` with every control, direction and unseen sign written out, for example as ``\x1b``."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_written(sign) for sign in text)


def _written(sign: str) -> str:
    if sign in _UNSEEN or unicodedata.category(sign) in _OBEYED:
        return sign.encode("unicode_escape").decode("ascii")
    return sign


def cells(text: str) -> int:
    """How many cells of a terminal ``text`` takes: wide signs two, marks upon a letter none."""
    if text.isascii():
        return len(text)
    return sum(_cells_of(sign) for sign in text)


def _cells_of(sign: str) -> int:
    if unicodedata.category(sign) in _NO_CELL:
        return 0
    return 2 if unicodedata.east_asian_width(sign) in _TWO_CELLS else 1


def folded(text: str, width: int, *, inset: int = 0) -> tuple[str, ...]:
    """``text`` made visible and broken at spaces to at most ``width`` cells a line.

    Lines after the first are set in by ``inset`` spaces; a word longer than a line is cut. A number stays with its
    unit, ``9 15/16 in``, so that none is read without it.
    """
    lines, line = [], ""
    for word in _pieces(visible(text), max(width - inset, 1)):
        joined = f"{line} {word}" if line.strip() else line + word
        if cells(joined) > width and line.strip():
            lines.append(line)
            joined = " " * inset + word
        line = joined
    return (*lines, line)


def _words(text: str, width: int) -> Iterator[str]:
    """The words of ``text``, a number with its unit as one where that fits on a line."""
    held = ""
    for word in text.split():
        joined = f"{held} {word}"
        if held and held[-1].isdigit() and _AMOUNT.fullmatch(joined) and cells(joined) <= width:
            held = joined
            continue
        if held:
            yield held
        held = word
    if held:
        yield held


def _pieces(text: str, width: int) -> Iterator[str]:
    for word in _words(text, width):
        piece = ""
        for sign in word:
            if piece and cells(piece + sign) > width:
                yield piece
                piece = ""
            piece += sign
        yield piece
