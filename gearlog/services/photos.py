"""Photos of splices and findings: copied into the log's folder, opened by the system's own viewer."""

from __future__ import annotations

import sys
from collections.abc import Collection
from pathlib import Path

from gearlog.errors import Fault, StorageError
from gearlog.storage import photos

VIEWERS = {"darwin": "open", "win32": "explorer"}
"""Per system the program that opens a file with whatever the user chose for pictures."""
FREE_SYSTEMS = "xdg-open"


def kept(typed: Collection[str], already: Collection[str], folder: Path | None) -> tuple[tuple[str, ...], list[Fault]]:
    """The names under which photos are kept, copied where they are not yet, and what is wrong with the others.

    ``already`` are those that the record held before: they stay as they are.
    """
    names: list[str] = []
    faults: list[Fault] = []
    for one in typed:
        try:
            names.append(one if one in already else _name(one, folder))
        except StorageError as error:
            reason, _, way_out = error.message.rpartition("; ")
            faults.append(Fault("photos", reason or error.message, way_out or "leave it out"))
    return tuple(dict.fromkeys(names)), faults


def _name(typed: str, folder: Path | None) -> str:
    if folder is None:
        raise StorageError("a log in memory has no folder for photos; open a log of your own with --log")
    if photos.is_kept(typed) and (folder / photos.FOLDER / typed).is_file():
        return typed
    try:
        return photos.keep(folder, Path(typed).expanduser())
    except RuntimeError as error:  # no such home
        raise StorageError(f"{error}; type where the photo lies") from error


def viewer_command(folder: Path | None, name: str, system: str = sys.platform) -> tuple[str, ...]:
    """The program and its argument that show a kept photo; to be started without a shell. Raises NotFoundError."""
    place = photos.path_of(folder or Path(), name)
    return (VIEWERS.get(system, FREE_SYSTEMS), str(place.resolve()))
