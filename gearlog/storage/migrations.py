"""The version of the log's format, and the steps that bring an older log up to it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from gearlog.errors import StorageError
from gearlog.storage.lines import Tables

FORMAT = 1
"""The version that this program writes."""

Step = Callable[[Tables], Tables]

STEPS: Mapping[int, Step] = {}
"""From each earlier version, the step that leads to the next; version 1 is the first."""


def refuse_newer(found: int, folder: str, newest: int = FORMAT) -> None:
    """Raise StorageError when the log was written by a later program."""
    if found > newest:
        raise StorageError(
            f"the log in {folder} was written by a newer gearlog (format {found}, this one reads up to "
            f"{newest}); nothing was changed: update gearlog and open it again"
        )


def migrate(tables: Tables, found: int, *, steps: Mapping[int, Step] = STEPS, newest: int = FORMAT) -> Tables:
    """The tables brought from version ``found`` to ``newest``, step by step.

    Raises StorageError when there is no way from ``found``.
    """
    for version in range(found, newest):
        if version not in steps:
            raise StorageError(f"no way is known from format {version} of the log; restore a backup")
        tables = steps[version](tables)
    return tables
