"""Explanations as plain lines: what a number is, how it comes about, what went in, where that is from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from gearlog.domain.explained import Explained
from gearlog.reports.words import sourced
from gearlog.units.visible import visible


def explained_lines(explained: Iterable[Explained]) -> tuple[str, ...]:
    """Every explanation in the order given, one fact a line."""
    return tuple(visible(line) for one in explained for line in _lines(one))


def _lines(one: Explained) -> Iterator[str]:
    yield f"Explained {one.key}: {one.title}: {one.value}"
    yield f"  formula: {one.formula}"
    if one.worked != one.formula:
        yield f"  worked: {one.worked}"
    for line in one.inputs:
        yield f"  with: {line}"
    yield f"  source: {sourced(one.source, common=one.common_practice)}"
