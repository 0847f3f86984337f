"""Reading method files: TOML into a Method; every fault is told with its line."""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from importlib import resources

import msgspec

from gearlog.errors import MethodError
from gearlog.splicing.method import Method
from gearlog.splicing.method_faults import Fault, Path, faults_of
from gearlog.splicing.toml_lines import line_of

LARGEST = 200_000  # characters; the longest built-in file has 6,000


@lru_cache(maxsize=1)
def load_builtin() -> tuple[Method, ...]:
    """The methods that come with the program, by id."""
    folder = resources.files("gearlog.splicing") / "methods"
    files = sorted((file for file in folder.iterdir() if file.name.endswith(".toml")), key=lambda file: file.name)
    return tuple(read_method(file.read_text(encoding="utf-8"), file.name, own=False) for file in files)


def read_method(text: str, file_name: str, *, own: bool) -> Method:
    """The method in ``text``; raises MethodError that names file, line and reason of every fault."""
    if len(text) > LARGEST:
        raise MethodError(f"{file_name}: has {len(text)} characters; at most {LARGEST} are read")
    try:
        plain = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise MethodError(f"{file_name}: not TOML: {error}") from error
    try:
        method = msgspec.convert(plain, Method)
    except msgspec.ValidationError as error:
        reason, _, where = str(error).partition(" - at `$")
        raise MethodError(_told(file_name, text, [(_path(where), reason)])) from error
    faults = list(faults_of(method))
    if faults:
        raise MethodError(_told(file_name, text, faults))
    return msgspec.structs.replace(method, own=own)


def _told(file_name: str, text: str, faults: list[Fault]) -> str:
    return "; ".join(f"{file_name}, line {line_of(text, path)}: {reason}" for path, reason in faults)


def _path(where: str) -> Path:
    """Msgspec's ``.marks[2].at`` as a path."""
    return tuple(int(part[1:-1]) if part.startswith("[") else part for part in re.findall(r"\[\d+\]|[^.\[\]`]+", where))
