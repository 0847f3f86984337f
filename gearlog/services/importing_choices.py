"""What the user says about a list: a mapping that can be kept in a file and given again."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable, Iterable, Mapping

import msgspec
from msgspec.structs import replace

from gearlog.domain.vocabulary import Category, Status, Use
from gearlog.errors import GearlogError
from gearlog.services.forms import CONSTRUCTIONS, FIBRES
from gearlog.services.importing_headings import KNOWN, LEFT_OUT
from gearlog.services.importing_measures import KINDS
from gearlog.units.quoting import quoted
from gearlog.units.reading import SPELLINGS

DATES = ("dmy", "mdy", "ymd")
"""The orders of day, month and year."""
DECIMALS = ("point", "comma")
TWINS = ("keep", "skip")
"""What becomes of a line that is like an earlier one: an item of its own, or the same item."""
UNKNOWN = "unknown"
"""Said for ``construction``: sizes of ropes go into the notes."""
MEASURES = tuple(KINDS)
WORDS: dict[str, tuple[str, ...]] = {
    "category": tuple(Category),
    "used_for": tuple(Use),
    "construction": (*(value for value, _ in CONSTRUCTIONS), UNKNOWN),
    "cover_fibre": tuple(value for value, _ in FIBRES),
    "core_fibre": tuple(value for value, _ in FIBRES),
    "status": tuple(Status),
}
"""Fields whose words can be translated, and into what."""
SETTABLE = (*WORDS, "maker", "model", "assigned_to", "kept_at", "standards", "made_on", "bought_on", "notes")
"""Fields that one answer can fill for every line that has nothing there."""
FIELDS = (*KNOWN, "lay", "mass_per_length")
"""Fields that a column can be read as."""
EXAMPLE = '[columns]\n"Rope" = "name"'


class Choices(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What the user says about a list.

    Attributes:
        columns: heading -> field, ``-`` for a column that is left out.
        units: field -> the unit of its bare numbers.
        set: field -> what every line has that says nothing there.
        words: field -> word of the list -> word of ours.
        cells: heading -> text of a cell as it stands -> what it is read as instead.
        each: field -> tag of a line, or its name where it has no tag -> what that line has there.
        dates: the order of day, month and year, or empty.
        decimal: the sign before decimals, or empty.
        encoding: of a CSV file, or empty; ``sheet`` of a workbook, or empty.
        twins: what becomes of lines that are alike, or empty.
    """

    columns: dict[str, str] = {}
    units: dict[str, str] = {}
    set: dict[str, str] = {}
    words: dict[str, dict[str, str]] = {}
    cells: dict[str, dict[str, str]] = {}
    each: dict[str, dict[str, str]] = {}
    dates: str = ""
    decimal: str = ""
    encoding: str = ""
    sheet: str = ""
    twins: str = ""


def read_choices(text: str, name: str) -> Choices:
    """The choices in a mapping file (TOML); raises GearlogError that names what is wrong."""
    try:
        found = msgspec.convert(tomllib.loads(text), Choices)
    except (tomllib.TOMLDecodeError, msgspec.ValidationError) as error:
        raise GearlogError(f"{name}: {error}; a mapping looks like {EXAMPLE.replace(chr(10), ' ')}") from error
    return checked(found, name)


def checked(choices: Choices, name: str) -> Choices:
    """The choices, if every word in them is one that can be; raises GearlogError."""
    checks: tuple[tuple[str, Iterable[str], Callable[[str], bool], Iterable[str]], ...] = (
        ("columns", choices.columns.values(), lambda one: one in {*FIELDS, LEFT_OUT}, FIELDS),
        ("units", choices.units, lambda one: one in MEASURES, MEASURES),
        ("units", choices.units.values(), lambda one: one in SPELLINGS, ("mm", "m", "in", "ft", "kN", "lbf", "kgf")),
        ("set", choices.set, lambda one: one in SETTABLE, SETTABLE),
        ("words", choices.words, lambda one: one in WORDS, WORDS),
        ("each", choices.each, lambda one: one in SETTABLE, SETTABLE),
        ("dates", [choices.dates], lambda one: one in {"", *DATES}, DATES),
        ("decimal", [choices.decimal], lambda one: one in {"", *DECIMALS}, DECIMALS),
        ("twins", [choices.twins], lambda one: one in {"", *TWINS}, TWINS),
    )
    for part, given, fits, known in checks:
        for word in given:
            if not fits(word):
                raise GearlogError(f"{name}: {part}: {quoted(word)} cannot be; choose of: {', '.join(known)}")
    _check_words(choices, name)
    return choices


def _check_words(choices: Choices, name: str) -> None:
    """Words that come from a list are on it, whether they translate one or fill what is empty."""
    given = {field: list(words.values()) for field, words in choices.words.items()}
    for field, texts in (*((field, [text]) for field, text in choices.set.items()), *_texts(choices.each)):
        if field in WORDS:
            given.setdefault(field, []).extend(texts)
    for field, words in given.items():
        for ours in words:
            if ours not in WORDS[field]:
                raise GearlogError(f"{name}: {field}: {quoted(ours)} cannot be; choose of: {', '.join(WORDS[field])}")


def _texts(tables: Mapping[str, Mapping[str, str]]) -> Iterable[tuple[str, list[str]]]:
    return ((field, list(texts.values())) for field, texts in tables.items())


def written(choices: Choices) -> str:
    """The choices as the text of a mapping file, to be changed and given again."""
    lines = ["# What gearlog was told about a list; give it again with --map"]
    lines += [f"{name} = {_text(value)}" for name in _PLAIN if (value := getattr(choices, name))]
    for table in ("columns", "units", "set"):
        lines += _table(table, getattr(choices, table))
    for name in _NESTED:
        for key, entries in getattr(choices, name).items():
            lines += _table(f"{name}.{key if name != 'cells' else _text(key)}", entries)
    return "\n".join(lines) + "\n"


_PLAIN = ("dates", "decimal", "encoding", "sheet", "twins")
_NESTED = ("words", "cells", "each")


def _table(name: str, entries: Mapping[str, str]) -> list[str]:
    if not entries:
        return []
    return ["", f"[{name}]", *(f"{_text(key)} = {_text(value)}" for key, value in entries.items())]


def _text(text: str) -> str:
    """A text of TOML: JSON's way of writing one is also TOML's, but for one sign."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def joined(kept: Choices, typed: Choices) -> Choices:
    """What was typed over what a file says."""
    tables = {name: {**getattr(kept, name), **getattr(typed, name)} for name in ("columns", "units", "set")}
    nested = {name: _over(getattr(kept, name), getattr(typed, name)) for name in _NESTED}
    plain = {name: getattr(typed, name) or getattr(kept, name) for name in _PLAIN}
    return replace(kept, **nested, **tables, **plain)


def _over(kept: Mapping[str, Mapping[str, str]], typed: Mapping[str, Mapping[str, str]]) -> dict[str, dict[str, str]]:
    return {key: {**kept.get(key, {}), **typed.get(key, {})} for key in (*kept, *typed)}
