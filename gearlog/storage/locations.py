"""Where a log lives: the one module that knows a path."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import msgspec

FOLDER_VARIABLE = "GEARLOG_DIR"
PROGRAM_NAME = "gearlog"


def log_folder(explicit: Path | None, environ: Mapping[str, str]) -> Path:
    """The folder of the log: as given, else as ``GEARLOG_DIR`` says, else the platform's place for user data."""
    if explicit is not None:
        return explicit.expanduser()
    named = environ.get(FOLDER_VARIABLE, "")
    if named.strip():
        return Path(named).expanduser()
    import platformdirs

    return platformdirs.user_data_path(PROGRAM_NAME, appauthor=False)


def own_methods_folder(folder: Path) -> Path:
    """Where the user's own method files of the log in ``folder`` lie."""
    return folder / "methods"


def own_rules_folder(folder: Path) -> Path:
    """Where the user's own rule files of the log in ``folder`` lie."""
    return folder / "rules"


class LogFiles(msgspec.Struct, frozen=True):
    """The names of everything in the folder of one log.

    Attributes:
        folder: the log's folder.
    """

    folder: Path

    @property
    def snapshot(self) -> Path:
        """The records as of the last fold: a plain TinyDB file."""
        return self.folder / "log.json"

    @property
    def journal(self) -> Path:
        """The changes since."""
        return self.folder / "log.journal"

    @property
    def lock(self) -> Path:
        """The side file that one program holds while it may write."""
        return self.folder / "log.lock"

    @property
    def holder(self) -> Path:
        """Who holds the lock, in words for the other program."""
        return self.folder / "log.holder"

    @property
    def settings(self) -> Path:
        """What the program remembers about its user."""
        return self.folder / "settings.json"

    @property
    def backups(self) -> Path:
        """Earlier snapshots."""
        return self.folder / "backups"

    @property
    def history(self) -> Path:
        """Earlier journals, for undo and for mending."""
        return self.folder / "history"
