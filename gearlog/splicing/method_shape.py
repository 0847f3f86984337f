"""The shape of a method file: keys that are missing, misspelt or of the wrong kind, told in plain words.

The converter tells only the first fault of what it is given, so the file is given to it entry by entry.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from typing import Any, get_args, get_origin

import msgspec

from gearlog.splicing.method import Method
from gearlog.units.quoting import quoted

Path = tuple[str | int, ...]
Fault = tuple[Path, str]

KINDS = {
    "int": "a whole number, such as 1",
    "float": "a number, such as 0.5",
    "str": 'text between quotation marks, such as "2 * fid"',
    "bool": "true or false",
    "array": 'a list in square brackets, such as ["polyester"]',
    "object": "a table",
    "null": "nothing",
    "datetime": "a date",
}
"""The converter's names of kinds, in words."""


def shape_faults(plain: Mapping[str, Any]) -> Iterator[Fault]:
    """Every fault of the file's shape, with the path of its entry."""
    fields = {field.name: field for field in msgspec.structs.fields(Method) if field.name != "own"}
    if "own" in plain:
        yield ("own",), "a file may not say whether it is your own; remove the line"
    for name in plain:
        if name not in fields and name != "own":
            yield (name,), _unknown(name, list(fields))
    for name, field in fields.items():
        if name in plain:
            yield from _entry_faults((name,), plain[name], field.type)
        elif field.required:
            yield (), f"{_named(name, field.type)} is missing; every method has it, see a built-in one for an example"


def _named(name: str, kind: Any) -> str:
    """A key as it is written: a plain key, a table or a table that may stand several times."""
    if get_origin(kind) is tuple and _is_table(get_args(kind)[0]):
        return f"[[{name}]]"
    return f"[{name}]" if _is_table(kind) else f"'{name}'"


def _is_table(kind: Any) -> bool:
    return isinstance(kind, type) and issubclass(kind, msgspec.Struct)


def _entry_faults(path: Path, value: Any, kind: Any) -> Iterator[Fault]:
    if get_origin(kind) is tuple and _is_table(get_args(kind)[0]) and isinstance(value, list):
        for index, one in enumerate(value):
            yield from _one_fault((*path, index), one, get_args(kind)[0])
    else:
        yield from _one_fault(path, value, kind)


def _one_fault(path: Path, value: Any, kind: Any) -> Iterator[Fault]:
    try:
        msgspec.convert(value, kind)
    except msgspec.ValidationError as error:
        reason, _, where = str(error).partition(" - at `$")
        yield _in_words((*path, *_path(where)), reason, kind)


def _path(where: str) -> Path:
    """The converter's ``.marks[2].at`` as a path; ``[...]`` is any entry of a list, told at the list."""
    parts = re.findall(r"\[\d+\]|[^.\[\]`]+", where.replace("[...]", ""))
    return tuple(int(part[1:-1]) if part.startswith("[") else part for part in parts)


def _in_words(path: Path, reason: str, kind: Any) -> Fault:
    """The converter's reason as people would say it."""
    if found := re.fullmatch(r"Object contains unknown field `(.*)`", reason):
        return (*path, found[1]), _unknown(found[1], _keys_at(path, kind))
    if found := re.fullmatch(r"Object missing required field `(.*)`", reason):
        return path, f"'{found[1]}' is missing here; add a line {found[1]} = ..."
    if found := re.fullmatch(r"Expected `(.*)`, got `(.*)`", reason):
        return path, _expected(path, found[1], found[2])
    if found := re.fullmatch(r"Invalid enum value (.*)", reason, re.DOTALL):
        return (
            path,
            f"{quoted(found[1].strip(chr(39)))} is not one of the words that are known here{_words(path, kind)}",
        )
    return path, reason


def _expected(path: Path, wanted: str, got: str) -> str:
    name = next((part for part in reversed(path) if isinstance(part, str)), "")
    if wanted == "array" and got == "object":
        return f"[{name}] may stand several times, so it is written with two pairs of brackets: [[{name}]]"
    if wanted == "object" and got == "array":
        return f"[[{name}]] stands once, so it is written with one pair of brackets: [{name}]"
    words = " or ".join(KINDS.get(part, part) for part in wanted.split(" | ") if part != "null")
    return f"'{name}' must be {words}; it is {KINDS.get(got, got).partition(',')[0]}"


def _unknown(name: str, known: list[str]) -> str:
    near = get_close_matches(name, known, n=1)
    way_out = f"did you mean '{near[0]}'?" if near else f"known: {', '.join(sorted(known))}"
    return f"the key {quoted(name)} is not known here; {way_out}"


def _keys_at(path: Path, kind: Any) -> list[str]:
    found = _kind_at(path, kind)
    return [field.name for field in msgspec.structs.fields(found)] if _is_table(found) else []


def _words(path: Path, kind: Any) -> str:
    """The words that may stand at a place, where it takes one of a few."""
    words = [word for word in _choices(_kind_at(path, kind)) if word]
    return f"; use one of: {', '.join(words)}" if words else ""


def _choices(kind: Any) -> tuple[str, ...]:
    parts = get_args(kind)
    if parts and all(isinstance(part, str) for part in parts):
        return tuple(parts)
    return tuple(word for part in parts if part is not Ellipsis for word in _choices(part))


def _kind_at(path: Path, kind: Any) -> Any:
    """The kind of the entry at the end of ``path``; the path begins at the file, ``kind`` at one of its entries."""
    kind = _table_of(kind)
    for part in path[1:]:
        fields = {field.name: field.type for field in msgspec.structs.fields(kind)} if _is_table(kind) else {}
        kind = _table_of(fields.get(str(part), kind))
    return kind


def _table_of(kind: Any) -> Any:
    """The table in a list of tables or in 'a table or none'; else the kind itself."""
    return next((one for one in get_args(kind) if _is_table(one)), kind)
