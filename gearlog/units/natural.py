"""The order in which people look for names: numbers by their size, large and small letters alike."""

from __future__ import annotations

import re

_DIGITS = re.compile(r"(\d+)")

Part = tuple[int, int, str, int]


def natural(text: str) -> tuple[Part, ...]:
    """A sorting key: ``connector-4`` comes before ``connector-39``, and both before ``helmet``."""
    return tuple(_part(part) for part in _DIGITS.split(text.casefold()) if part)


def _part(part: str) -> Part:
    """Numbers before letters, compared by their count of digits first; of two alike in size the shorter one."""
    if not part.isdecimal():
        return (1, 0, part, 0)
    digits = part.lstrip("0")
    return (0, len(digits), digits, len(part))
