"""Files that leave the log, a bench card or a method to be changed: whole or not at all, never over another unasked.

They tell what the log tells, so a new one is readable by its owner alone, as the log is.
"""

from __future__ import annotations

import errno
from pathlib import Path

from gearlog.domain.identity import tag_from
from gearlog.domain.plan import Plan
from gearlog.errors import GearlogError
from gearlog.storage import durable
from gearlog.units.quoting import quoted

CARDS = "cards"
"""The folder of the log that cards go to."""
CARD_KINDS = (("pdf", "PDF, one page to print"), ("html", "HTML, for any browser"), ("svg", "SVG, the drawing alone"))
PAPERS = (("a4", "A4"), ("letter", "Letter"))

FULL = frozenset({errno.ENOSPC, errno.EDQUOT})
MAKE_ROOM = "make room on that disk, or name a file on another"
"""The way out where a disk is full."""


def cards_folder(log_folder: Path | None) -> Path:
    """Where cards go: beside the log's own files; a log that leaves nothing on the disk uses the present folder."""
    return log_folder / CARDS if log_folder is not None else Path.cwd()


def card_name(plan: Plan, folder: Path, kind: str) -> str:
    """A file name that tells rope, end and method and is not taken in ``folder`` yet."""
    inputs = plan.inputs
    words = " ".join(filter(None, ("stop" if plan.stopped else "", inputs.rope.name, inputs.end, plan.method)))
    taken = {path.stem for path in folder.glob(f"*.{kind}")} if folder.is_dir() else set()
    return f"{tag_from(words, taken)}.{kind}"


def card_path(typed: str, folder: Path, kind: str) -> Path:
    """The file that a typed name means: in ``folder`` unless it names a folder itself; raises GearlogError."""
    name = typed.strip()
    try:
        path = Path(name).expanduser()
    except RuntimeError as error:
        raise GearlogError(f"{quoted(name)}: {error}; type the whole path") from error
    if path.suffix.casefold() != f".{kind}":
        path = path.with_name(f"{path.name}.{kind}") if path.name else path
    return path if path.parent != Path() else folder / path


def write_out(path: Path, data: bytes, *, over: bool = False) -> Path:
    """Write a file whole or not at all; raises GearlogError where it cannot be, or where one is there and not ``over``.

    Its folder is made where only that is missing, as the log's own for cards and methods are at first.
    """
    try:
        if path.exists() and not over:
            raise GearlogError(f"{quoted(str(path))} is there already; type another name")
        path.parent.mkdir(mode=durable.PRIVATE_FOLDER, exist_ok=True)
        put_whole(path, data)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        told = f"{quoted(str(path))} could not be written: {reason}; {way_out(error, 'type another name or folder')}"
        raise GearlogError(told) from error
    return path


def way_out(error: Exception, otherwise: str) -> str:
    """What to do about a file that cannot be written: make room where the disk, or one's part of it, is full."""
    return MAKE_ROOM if isinstance(error, OSError) and error.errno in FULL else otherwise


def put_whole(path: Path, data: bytes) -> None:
    """Put a file in its place at once; one that is there keeps its rights. Raises OSError."""
    durable.write_whole(path, data)
