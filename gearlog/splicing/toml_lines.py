"""Where in a TOML text a table or key stands: the standard reader tells values, not lines."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence

_NAME = r"""(?:[A-Za-z0-9_\-]+|"[^"]*"|'[^']*')"""
_NAMES = rf"{_NAME}(?:\s*\.\s*{_NAME})*"
_HEADER = re.compile(rf"\s*(\[\[?)\s*({_NAMES})\s*\]\]?")
_KEY = re.compile(rf"\s*({_NAMES})\s*=")
_LONG = re.compile(r"\"\"\"|'''")

Path = tuple[str | int, ...]


def line_of(text: str, path: Sequence[str | int]) -> int:
    """The line (from 1) of ``path``, for example ``("marks", 2, "at")``; of its nearest parent when it has none."""
    places = _places(text)
    wanted = tuple(path)
    while wanted and wanted not in places:
        wanted = wanted[:-1]
    return places.get(wanted, 1)


def _places(text: str) -> dict[Path, int]:
    places: dict[Path, int] = {(): 1}
    counts: Counter[Path] = Counter()
    table: Path = ()
    for number, line in _outside_long_texts(text):
        if header := _HEADER.match(line):
            table = _table(_parts(header[2]), header[1] == "[[", counts)
            places.setdefault(table, number)
            places.setdefault(table[:-1] if header[1] == "[[" else table, number)
        elif key := _KEY.match(line):
            for depth in range(1, len(_parts(key[1])) + 1):
                places.setdefault((*table, *_parts(key[1])[:depth]), number)
    return places


def _outside_long_texts(text: str) -> Iterator[tuple[int, str]]:
    """The lines with their numbers, without those that stand inside a text of several lines."""
    closing = ""
    for number, line in enumerate(text.split("\n"), 1):
        if not closing:
            yield number, line
        for sign in _LONG.findall(line):
            closing = "" if sign == closing else closing or sign


def _parts(names: str) -> list[str]:
    return [name.strip("\"'") for name in re.findall(_NAME, names)]


def _table(names: Sequence[str], is_array: bool, counts: Counter[Path]) -> Path:  # noqa: FBT001 (private)
    path: Path = ()
    for name in names[:-1]:
        path = (*path, name)
        if counts[path]:
            path = (*path, counts[path] - 1)
    path = (*path, names[-1])
    if is_array:
        counts[path] += 1
        path = (*path, counts[path] - 1)
    return path
