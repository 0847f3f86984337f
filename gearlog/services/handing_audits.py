"""Where what is handed over goes: audits and labels into a folder of the log, a backup beside the log."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from gearlog.domain.identity import tag_from
from gearlog.reports.audit_tables import TABLES
from gearlog.services.auditing_forms import Wanted

AUDITS = "audits"
"""The folder of the log that audits and labels go to."""
BACKUP = "zip"
"""What a backup's name ends with."""


def audits_folder(log_folder: Path | None) -> Path:
    """Where audits go: beside the log's own files; a log that leaves nothing on the disk uses the present folder."""
    return log_folder / AUDITS if log_folder is not None else Path.cwd()


def backup_folder(log_folder: Path) -> Path:
    """Where a backup goes: outside the log, for a folder that is lost is lost with all that lies in it."""
    return log_folder.resolve().parent


def audit_name(wanted: Wanted, folder: Path) -> str:
    """A file name that tells the day and the set and is not taken in ``folder`` yet."""
    sets = (f"{kind} {' '.join(names)}" for kind, names in wanted.sets.items())
    table = (wanted.table,) if wanted.format == "csv" and wanted.table != TABLES[0] else ()
    return free_name(" ".join((f"audit {wanted.on}", *table, *sets)), folder, wanted.format)


def report_name(tag: str, on: str, folder: Path, kind: str) -> str:
    """A file name for the report of one examination."""
    return free_name(f"report {tag} {on}", folder, kind)


def labels_name(on: date, folder: Path) -> str:
    """A file name for a sheet of labels."""
    return free_name(f"labels {on}", folder, "pdf")


def backup_name(log_folder: Path, on: date) -> str:
    """A file name for a backup: the log's name and the day."""
    return free_name(f"{log_folder.name} {on}", backup_folder(log_folder), BACKUP)


def free_name(words: str, folder: Path, ending: str) -> str:
    """A file name made of words, not taken in ``folder`` yet."""
    taken = {path.stem for path in folder.glob(f"*.{ending}")} if folder.is_dir() else set()
    return f"{tag_from(words, taken)}.{ending}"
