"""Reading method files: TOML into a Method; every fault is told with its file, its line and the way out."""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from importlib import resources
from typing import Any

import msgspec

from gearlog.errors import MethodError
from gearlog.splicing.method import Method, as_own
from gearlog.splicing.method_faults import faults_of
from gearlog.splicing.method_shape import Fault, shape_faults
from gearlog.splicing.toml_lines import line_of
from gearlog.units.visible import visible

LARGEST = 200_000  # characters; the longest built-in file has 7,000
MOST_FAULTS = 20  # of one file; whoever has mended those checks again
MARKS_OF_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
COPY_ONE = "copy a built-in method with: gearlog methods copy hollow-eye --as my-eye"
WAYS_OUT = {
    "Expected '=' after a key": "a line is a name, an equals sign and a value, as in version = 1",
    "Invalid value": 'text stands between quotation marks, as in formula = "2 * fid"',
    "Invalid statement": "a line is a name, an equals sign and a value, or a heading in brackets, as in [[lengths]]",
    "Unclosed array": "a list ends with a square bracket, as in strands = [8, 12]",
    "Unclosed inline table": 'a table on one line ends with a curly bracket, as in when = { fibres = ["hmpe"] }',
    "Illegal character '\\n'": "text on one line ends with a quotation mark on that line",
    "Illegal character": "take that sign out",
    "Unterminated string": "text ends with a quotation mark",
    "Cannot overwrite a value": "a name stands once under a heading; remove one of the two",
    "Cannot declare": "a heading that stands several times has two pairs of brackets, as in [[lengths]]",
    "Cannot mutate": "a table on one line is complete; put the further name inside its curly brackets",
    "Expected newline or end of document": "one name and value a line; is a quotation mark missing or too much?",
    "Unescaped": "write a backslash twice, or leave it out",
    "Duplicate inline table key": "a name stands once in a table; remove one of the two",
}
"""What the TOML reader says -> what to do."""


@lru_cache(maxsize=1)
def load_builtin() -> tuple[Method, ...]:
    """The methods that come with the program, by id."""
    folder = resources.files("gearlog.splicing") / "methods"
    files = sorted((file for file in folder.iterdir() if file.name.endswith(".toml")), key=lambda file: file.name)
    return tuple(read_method(file.read_text(encoding="utf-8"), file.name, own=False) for file in files)


def builtin_text(method_id: str) -> str:
    """The file of a built-in method, as it came with the program; raises OSError where there is none."""
    folder = resources.files("gearlog.splicing") / "methods"
    return (folder / f"{method_id}.toml").read_text(encoding="utf-8")


def read_bytes(data: bytes, file_name: str, *, own: bool) -> Method:
    """The method in a file's bytes; raises MethodError that names file, line and reason of every fault."""
    if data.startswith(MARKS_OF_UTF_16) or b"\0" in data:
        kind = "text of another kind (UTF-16)" if data.startswith(MARKS_OF_UTF_16) else "not text"
        raise _refused(file_name, "", [((), f"is {kind}; save it as plain UTF-8 text")])
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8", "replace")
        line = before.replace("\r\n", "\n").count("\n") + 1
        told = f"{visible(file_name)}, line {line}: holds a sign that is not UTF-8; save the file as plain UTF-8 text"
        raise MethodError(told, faults=(told,)) from error
    return read_method(text, file_name, own=own)


def read_method(text: str, file_name: str, *, own: bool) -> Method:
    """The method in ``text``; raises MethodError that names file, line and reason of every fault."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if len(text) > LARGEST:
        raise _refused(file_name, text, [((), f"has {len(text):,} characters; at most {LARGEST:,} are read")])
    if not text.strip():
        raise _refused(file_name, text, [((), f"is empty; {COPY_ONE}")])
    plain = _plain(text, file_name)
    if faults := list(shape_faults(plain)):
        raise _refused(file_name, text, faults)
    method = msgspec.convert(plain, Method)
    if faults := list(faults_of(method)):
        raise _refused(file_name, text, faults)
    return as_own(method) if own else method


def _plain(text: str, file_name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        told = _not_toml(str(error), text, file_name)
        raise MethodError(told, faults=(told,)) from error
    except (RecursionError, ValueError) as error:  # brackets without end, a number of thousands of digits
        told = f"{visible(file_name)}, line 1: not TOML: too deep or too long to be read; {COPY_ONE}"
        raise MethodError(told, faults=(told,)) from error


def _not_toml(reason: str, text: str, file_name: str) -> str:
    """The TOML reader's refusal with its line in front and the way out behind."""
    found = re.search(r" \(at (?:line (\d+), column \d+|end of document)\)", reason)
    line = int(found[1]) if found and found[1] else text.count("\n") + 1
    what = visible(reason[: found.start()] if found else reason)
    way_out = next((words for start, words in WAYS_OUT.items() if what.startswith(start)), COPY_ONE)
    if what.startswith("Cannot") and text.split("\n")[line - 1].lstrip().startswith("["):
        way_out = WAYS_OUT["Cannot declare"]
    return f"{visible(file_name)}, line {line}: not TOML: {what}; {way_out}"


def _refused(file_name: str, text: str, faults: list[Fault]) -> MethodError:
    told = [f"{visible(file_name)}, line {line_of(text, path)}: {reason}" for path, reason in faults[:MOST_FAULTS]]
    if len(faults) > MOST_FAULTS:
        told.append(f"{visible(file_name)}: {len(faults) - MOST_FAULTS} more faults; mend these first")
    return MethodError("; ".join(told), faults=tuple(told))
