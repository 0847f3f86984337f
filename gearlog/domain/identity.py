"""Identity: ids that are never reused, and tags that a person can write on a rope."""

from __future__ import annotations

import secrets
import unicodedata
from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from gearlog.errors import Fault

ID_BYTES = 8  # 64 random bits: two alike in a million records is a one in 10^8 chance
TAG_LENGTH = 32  # characters that fit a label wound round a rope


_source: ContextVar[Callable[[int], str]] = ContextVar("_source", default=secrets.token_hex)


def new_id() -> str:
    """A new random id of 16 hexadecimal digits."""
    return _source.get()(ID_BYTES)


@contextmanager
def ids_from(source: Callable[[int], str]) -> Iterator[None]:
    """Take ids from ``source`` (bytes -> hexadecimal digits) for a while: data made the same each time."""
    token = _source.set(source)
    try:
        yield
    finally:
        _source.reset(token)


class Tags(Collection[str]):
    """Tags that are borne, large and small letters alike; asked thousands of times over while a list grows."""

    def __init__(self, tags: Iterable[str] = ()) -> None:
        self._folded = {tag.casefold() for tag in tags}
        self._next: dict[str, int] = {}

    def __contains__(self, tag: object) -> bool:
        return isinstance(tag, str) and tag.casefold() in self._folded

    def __iter__(self) -> Iterator[str]:
        return iter(self._folded)

    def __len__(self) -> int:
        return len(self._folded)

    def add(self, tag: str) -> None:
        """One more."""
        self._folded.add(tag.casefold())

    def free(self, base: str) -> str:
        """``base`` if nothing bears it, else with the first number from 2 on that is free."""
        if base not in self:
            return base
        number = self._next.get(base, 2)  # all below were seen to be borne, and none is ever given back
        while f"{base}-{number}" in self:
            number += 1
        self._next[base] = number
        return f"{base}-{number}"


def tag_from(name: str, taken: Collection[str]) -> str:
    """A short printable tag made from ``name``, unlike every tag in ``taken`` (any case)."""
    from slugify import slugify

    base = slugify(name, max_length=TAG_LENGTH - 4, word_boundary=True) or "item"
    return _folded(taken).free(base)


def _folded(taken: Collection[str]) -> Tags:
    return taken if isinstance(taken, Tags) else Tags(taken)


def tag_fault(tag: str, taken: Collection[str]) -> Fault | None:
    """What is wrong with a typed tag, or None."""
    if not tag:
        return Fault("tag", "is empty", "type a short id such as line-3, or leave the name to make one")
    if len(tag) > TAG_LENGTH:
        return Fault("tag", f"has {len(tag)} characters", f"use at most {TAG_LENGTH}, such as line-3")
    if any(unicodedata.category(sign)[0] not in "LMNPS" for sign in tag):
        return Fault("tag", "holds a space or an unprintable sign", "use letters, digits, hyphens, as in line-3")
    if tag in _folded(taken):
        return Fault("tag", f"'{tag}' is on another item", "choose a tag that no other item bears")
    return None
