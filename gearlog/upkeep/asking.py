"""Which lines an inspection of one item asks, and the code that stands for just these lines."""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Mapping, Sequence

import msgspec

from gearlog.domain.item import Item
from gearlog.domain.lifecycle import EndView
from gearlog.domain.vocabulary import End
from gearlog.upkeep.criteria_files import CriteriaFile, Criterion, all_files

AT_END = "@"
"""Stands between a criterion's id and the rope's end of which it is asked."""
CODE_DIGITS = 4
"""Hexadecimal digits of the code of a list of lines."""


class Line(msgspec.Struct, frozen=True, kw_only=True):
    """One line of an inspection.

    Attributes:
        key: the criterion's id, with the end after ``@`` where it is asked of one end.
        group: the heading under which it stands.
        look: what to look for.
        how: how to look.
        watch: what is to be watched.
        fail: what takes the item out of service.
        sources: where this comes from.
    """

    key: str
    group: str
    look: str
    how: str
    watch: str
    fail: str
    sources: tuple[str, ...]


def lines_for(item: Item, ends: Mapping[End, EndView]) -> tuple[Line, ...]:
    """What to look at on ``item``, whose ends stand as ``ends`` says; spliced, sewn and knotted ends one by one."""
    return tuple(line for file in all_files() if _applies(file, item) for line in _lines(file, ends))


def code_of(lines: Sequence[Line]) -> str:
    """A code that changes with any line: who names it has had just this list before them."""
    words = "\n".join(f"{line.key} {line.look}" for line in lines)
    return f"{zlib.crc32(words.encode()) & 0xFFFF:0{CODE_DIGITS}x}"


def _applies(file: CriteriaFile, item: Item) -> bool:
    made = item.rope.construction if item.rope else ""
    return (
        (not file.categories or item.category in file.categories)
        and (not file.constructions or made in file.constructions)
        and (file.rope is None or file.rope is (item.rope is not None))
    )


def _lines(file: CriteriaFile, ends: Mapping[End, EndView]) -> Iterator[Line]:
    if file.of is None:
        yield from (_line(file.title, criterion) for criterion in file.criteria)
        return
    for end, view in ends.items():
        if view.state is file.of:
            yield from (_line(f"{file.title} {end}", criterion, end) for criterion in file.criteria)


def _line(group: str, criterion: Criterion, end: End | None = None) -> Line:
    return Line(
        key=criterion.id if end is None else f"{criterion.id}{AT_END}{end}",
        group=group,
        look=criterion.look,
        how=criterion.how,
        watch=criterion.watch,
        fail=criterion.fail,
        sources=criterion.sources,
    )
