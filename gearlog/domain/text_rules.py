"""What people's texts may hold: letters of any script and all printable signs, in sensible lengths."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

import msgspec

from gearlog.errors import Fault
from gearlog.units.visible import visible

LINE_LENGTH = 200  # characters of a one-line text; a name or a maker needs far less
NOTES_LENGTH = 20_000  # characters of notes, some ten pages
LIST_LENGTH = 100  # entries of a list of documents, photos or tools
NOTES = frozenset({"notes"})
"""Fields of several lines."""
_LINE_SIGNS = frozenset("\n\t")  # line break and tabulator, which notes may hold
_COMMANDS = frozenset({"Cc", "Cs", "Zl", "Zp"})  # control, half a surrogate pair, line and paragraph separator


def text_faults(record: msgspec.Struct) -> Iterator[Fault]:
    """What is wrong with the texts and lists of texts that ``record`` itself holds."""
    for name in record.__struct_fields__:
        value = getattr(record, name)
        if type(value) is str:
            yield from _text_faults(name, value)
        elif type(value) is tuple and value and type(value[0]) is str:
            yield from _list_faults(name, value)


def is_blank(text: str) -> bool:
    """Whether nothing in ``text`` can be seen."""
    return all(unicodedata.category(sign)[0] in "CZ" for sign in text)


def _list_faults(name: str, texts: tuple[str, ...]) -> Iterator[Fault]:
    if len(texts) > LIST_LENGTH:
        yield Fault(name, f"has {len(texts)} entries", f"keep at most {LIST_LENGTH}, and put the rest in the notes")
    for text in texts:
        yield from _text_faults(name, text)


def _text_faults(name: str, text: str) -> Iterator[Fault]:
    most = NOTES_LENGTH if name in NOTES else LINE_LENGTH
    if len(text) > most:
        reason = f"has {len(text):,} characters"
        yield Fault(
            name, reason, f"shorten it to {most:,}" + ("" if name in NOTES else ", and put the rest in the notes")
        )
    sign = _command(text, _LINE_SIGNS if name in NOTES else frozenset())
    if sign:
        yield Fault(name, f"holds the control sign {visible(sign)}", "delete it, or type the words again")


def _command(text: str, allowed: frozenset[str]) -> str:
    """The first sign that would command a terminal or break a line, or nothing."""
    if text.isascii() and text.isprintable():
        return ""
    return next((sign for sign in text if unicodedata.category(sign) in _COMMANDS and sign not in allowed), "")
