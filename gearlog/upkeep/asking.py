"""Which lines an inspection of one item asks, and the code that stands for just these lines."""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

import msgspec

from gearlog.domain.item import Item
from gearlog.domain.lifecycle import EndView
from gearlog.domain.vocabulary import End, EndState
from gearlog.upkeep.criteria_files import CriteriaFile, Criterion, all_files

AT_END = "@"
"""Stands between a criterion's id and the rope's end, or the splice between, of which it is asked."""
CODE_DIGITS = 4
"""Hexadecimal digits of the code of a list of lines."""


class Line(msgspec.Struct, frozen=True, kw_only=True):
    """One line of an inspection.

    Attributes:
        key: the criterion's id, with the end or the splice's id after ``@`` where it is asked of one place.
        group: the heading under which it stands.
        look: what to look for, and where.
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


class Between(msgspec.Struct, frozen=True):
    """A splice between the ends, of which lines are asked too.

    Attributes:
        id: of its record.
        words: where it lies, in words.
    """

    id: str
    words: str


def lines_for(item: Item, ends: Mapping[End, EndView], between: Sequence[Between] = ()) -> tuple[Line, ...]:
    """What to look at on ``item``: on the whole, then all of end A, all of end B, each splice between, then the rest.

    ``ends`` says how its ends stand: what is asked of a spliced end is asked only where one is.
    """
    files = [file for file in all_files() if _applies(file, item)]
    return tuple(line for _, group in groupby(files, _of_a_place) for line in _together(tuple(group), ends, between))


def _of_a_place(file: CriteriaFile) -> bool:
    return file.of is not None


def _together(files: Sequence[CriteriaFile], ends: Mapping[End, EndView], between: Sequence[Between]) -> Iterator[Line]:
    """The lines of files that follow one another, place by place."""
    yield from (_line(file.title, criterion) for file in files if file.of is None for criterion in file.criteria)
    for end, view in ends.items():
        for file in (one for one in files if one.of is view.state):
            place = f"end {end}"
            yield from (_line(f"{file.title}, {place}", criterion, end, place) for criterion in file.criteria)
    for one in between:
        for file in (one for one in files if one.of is EndState.SPLICED):
            asked = (criterion for criterion in file.criteria if not criterion.eye)
            yield from (_line(f"{file.title}, {one.words}", criterion, one.id, one.words) for criterion in asked)


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


def _line(group: str, criterion: Criterion, of: str = "", place: str = "") -> Line:
    """One line; what is asked of one place names it, for a record tells only what was asked."""
    asked = criterion.look
    return Line(
        key=f"{criterion.id}{AT_END}{of}" if of else criterion.id,
        group=group,
        look=f"{place[0].upper()}{place[1:]}: {asked[0].lower()}{asked[1:]}" if place else asked,
        how=criterion.how,
        watch=criterion.watch,
        fail=criterion.fail,
        sources=criterion.sources,
    )
