"""Lists and mappings as files: found, read whole, refused in one line."""

from __future__ import annotations

from pathlib import Path

from msgspec.structs import replace

from gearlog.errors import GearlogError
from gearlog.services.importing_choices import Choices, read_choices, written
from gearlog.services.importing_headings import LEFT_OUT
from gearlog.services.importing_table import LARGEST, ImportRefusedError
from gearlog.services.importing_views import Trial
from gearlog.units.quoting import quoted

MAPS = "maps"
"""The folder of the log that mappings go to."""


def read_list(typed: str, *, pipe: bool = False) -> tuple[str, bytes]:
    """The name and the content of the list that a typed path means; raises GearlogError.

    Only with ``pipe`` is a pipe read, which can make one wait.
    """
    path, data = _read(typed, "name a list that is there, such as ~/old-list.csv", pipe=pipe)
    if len(data) > LARGEST:
        raise ImportRefusedError(f"{path.name} has more than {LARGEST:,} bytes; split it")
    return path.name, data


def read_mapping(typed: str) -> Choices:
    """The choices that a typed path means; raises GearlogError."""
    path, data = _read(typed, "name a mapping that was kept, such as ~/list.toml")
    try:
        return read_choices(data.decode("utf-8"), path.name)
    except UnicodeDecodeError as error:
        raise GearlogError(f"{quoted(path.name)} is not UTF-8; save the mapping as plain UTF-8 text") from error


def mapping_of(trial: Trial, choices: Choices) -> bytes:
    """What was said and what was recognised of a list, as the text of a file to be given again."""
    columns = {column.heading: column.field or LEFT_OUT for column in trial.columns if column.heading}
    return written(replace(choices, columns=columns)).encode("utf-8")


def _read(typed: str, way_out: str, *, pipe: bool = False) -> tuple[Path, bytes]:
    if not typed.strip():
        raise GearlogError(f"no file is named; {way_out}")
    try:
        path = Path(typed.strip()).expanduser()
        if path.is_dir():
            raise GearlogError(f"{quoted(typed.strip())} is a folder; {way_out}")
        if not path.is_file() and not (pipe and path.exists()):
            raise GearlogError(f"{quoted(typed.strip())} is {'no file' if path.exists() else 'not there'}; {way_out}")
        with path.open("rb") as file:
            return path, file.read(LARGEST + 1)
    except (OSError, ValueError, RuntimeError) as error:
        reason = getattr(error, "strerror", None) or error
        raise GearlogError(f"{quoted(typed.strip())} cannot be read: {reason}; {way_out}") from error
