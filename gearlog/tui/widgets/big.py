"""Numbers three or five rows high, drawn with blocks: read from where the rope lies, not from the chair."""

from __future__ import annotations

from itertools import pairwise, zip_longest

ROWS = 3
"""Rows of the terminal that a big number takes; each holds two rows of dots."""
TALL_ROWS = 5
"""Rows of a tall one: a row of dots each, a dot being two columns wide."""
GAP = 1  # columns between two figures
_DOTS = {
    "0": "### #.# #.# #.# ###", "1": ".#. ##. .#. .#. ###", "2": "### ..# ### #.. ###", "3": "### ..# .## ..# ###",
    "4": "#.# #.# ### ..# ..#", "5": "### #.. ### ..# ###", "6": "### #.. ### #.# ###", "7": "### ..# ..# .#. .#.",
    "8": "### #.# ### #.# ###", "9": "### #.# ### ..# ###", "/": "..# ..# .#. #.. #..", "-": "... ... ### ... ...",
    ".": ". . . . #", ",": ". . . # #", " ": ".. .. .. .. ..",
}  # fmt: skip
_SIGNS = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}


def big(text: str) -> tuple[str, ...]:
    """``text`` in three rows: figures big, any other sign plain in the last row; a space stays a space."""
    figures = [_figure(sign, known=sign in _DOTS) for sign in text]
    joined = [""] * ROWS
    for place, figure in enumerate(figures):
        gap = " " * GAP if place and _apart(text[place - 1], text[place]) else ""
        joined = [f"{before}{gap}{row}" for before, row in zip(joined, figure, strict=True)]
    return tuple(joined)


def _apart(before: str, after: str) -> bool:
    """Whether a gap lies between two signs: a space is one by itself, and letters of a unit stand together."""
    return " " not in {before, after} and (before in _DOTS or after in _DOTS)


def tall(text: str) -> tuple[str, ...]:
    """The same in five rows and twice as wide."""
    joined = [""] * TALL_ROWS
    for place, sign in enumerate(text):
        gap = "  " * GAP if place and _apart(text[place - 1], sign) else ""
        joined = [f"{before}{gap}{row}" for before, row in zip(joined, _tall_figure(sign), strict=True)]
    return tuple(joined)


def _tall_figure(sign: str) -> tuple[str, ...]:
    if sign not in _DOTS:
        return (*[" "] * (TALL_ROWS - 1), sign)
    return tuple("".join("██" if dot == "#" else "  " for dot in dots) for dots in _DOTS[sign].split())


def _figure(sign: str, *, known: bool) -> tuple[str, ...]:
    if not known:
        return (" " * len(sign), " " * len(sign), sign)
    dots = [*_DOTS[sign].split(), ""]
    pairs = list(pairwise(dots))[::2]
    return tuple("".join(_SIGNS[up == "#", down == "#"] for up, down in zip_longest(*pair)) for pair in pairs)
