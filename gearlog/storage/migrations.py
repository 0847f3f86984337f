"""The version of the log's format, and the steps that bring an older log up to it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from gearlog.errors import StorageError
from gearlog.storage.lines import Tables

FORMAT = 2
"""The version that this program writes.

2 holds inspections, tests of strength, kits and splices at the bench in tables of their own. A program that knows
nothing of these tables would show an item as free that an inspection took out of service, so it must refuse the log.
"""

Step = Callable[[Tables], Tables]


def unchanged(tables: Tables) -> Tables:
    """The step to a version that has more tables and the same rows in those that were there."""
    return tables


STEPS: Mapping[int, Step] = {1: unchanged}
"""From each earlier version, the step that leads to the next; version 1 is the first."""


def rows_alike(found: int | None) -> bool:
    """Whether rows of version ``found`` are as this program writes them; None is of a log that does not say it."""
    return found is None or all(STEPS.get(version) is unchanged for version in range(found, FORMAT))


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
