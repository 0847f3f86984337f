"""Where in a TOML text a table or key stands: the standard reader tells values, not lines."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

_HEADER = re.compile(r"\s*(\[\[?)\s*([A-Za-z0-9_.\-]+)\s*\]\]?")
_KEY = re.compile(r"\s*([A-Za-z0-9_\-]+)\s*=")

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
    for number, line in enumerate(text.splitlines(), 1):
        if header := _HEADER.match(line):
            table = _table(header[2].split("."), header[1] == "[[", counts)
            places.setdefault(table, number)
        elif key := _KEY.match(line):
            places.setdefault((*table, key[1]), number)
    return places


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
