"""Text that is read from the right, put into the order in which its signs stand on paper.

A short form of the Unicode rules (UAX 9) that is right for names and remarks: words read from the right stand
reversed, numbers within them do not, and a line that begins with such a word is laid from the right.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from itertools import groupby

_RIGHT = frozenset({"R", "AL"})
_STRONG = _RIGHT | {"L"}
_MIRRORED = str.maketrans("()[]{}<>«»", ")(][}{><»«")
_KEPT_WHOLE = re.compile(r"[0-9]+(?:[.,:/][0-9]+)*|.[\u0300-\u036f\u0591-\u05c7\u064b-\u065f]*", re.DOTALL)
"""What keeps its order within reversed text: a number, and a letter with the marks upon it."""


def as_seen(text: str) -> str:
    """``text`` with its signs in the order in which they are seen from the left."""
    kinds = [unicodedata.bidirectional(sign) for sign in text]
    if _RIGHT.isdisjoint(kinds):
        return text
    strong = [kind in _RIGHT if kind in _STRONG else None for kind in kinds]
    base = next(side for side in strong if side is not None)
    sides = _settled(strong, base=base)
    runs = [(side, "".join(sign for sign, _ in run)) for side, run in groupby(zip(text, sides, strict=True), _side_of)]
    shown = [_reversed(run) if side else run for side, run in runs]
    return "".join(reversed(shown) if base else shown)


def _settled(strong: list[bool | None], *, base: bool) -> list[bool]:
    """The side of every sign: spaces, numbers and points go with what is on both sides of them, else with the line."""
    before = _carried(strong, base=base)
    after = reversed(_carried(reversed(strong), base=base))
    return [left if left == right else base for left, right in zip(before, after, strict=True)]


def _carried(strong: Iterable[bool | None], *, base: bool) -> list[bool]:
    carried, side = [], base
    for one in strong:
        side = side if one is None else one
        carried.append(side)
    return carried


def _side_of(pair: tuple[str, bool]) -> bool:
    return pair[1]


def _reversed(run: str) -> str:
    return "".join(reversed(_KEPT_WHOLE.findall(run))).translate(_MIRRORED)
