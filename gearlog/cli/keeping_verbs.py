"""``gearlog backup``, ``restore``, ``verify``, ``check``, ``undo``: a whole log in one file, its health, a step."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit, WrongCallError, tell
from gearlog.units.quoting import quoted

LISTED = 10  # changes that undo --list tells
MINUTE = len("2024-05-31T08:00")  # as much of a moment as is told

if TYPE_CHECKING:
    from gearlog.domain.verified import Verified
    from gearlog.services.book import Book


def backup(book: Book, options: Namespace) -> Exit:
    """Put the whole log into one file."""
    found = book.keeping.backup(_path(options.file), over=options.force)
    output.lines([f"{_told(found)}, written to {options.file} and read again"])
    return Exit.FINE


def verify(options: Namespace) -> Exit:
    """Read a backup and say what is in it and whether it is sound."""
    from gearlog.services import keeping

    found = keeping.verify(_path(options.file))
    if options.json:
        output.json(found)
    for finding in found.findings:
        tell(finding)
    if not options.json and not found.findings:
        output.lines([f"{options.file} is sound: made {found.made_at}, {_told(found)}"])
    return Exit.FINDING if found.findings else Exit.FINE


def restore(options: Namespace) -> Exit:
    """Put the log of a backup into a new folder; the log in use is never touched."""
    from gearlog.services import keeping

    if options.log is None:
        raise WrongCallError("name the new folder, for example: gearlog restore log.zip --log restored")
    found = keeping.restore(_path(options.file), _path(options.log))
    output.lines([f"{_told(found)}, restored to {options.log}; open it with: gearlog --log {options.log}"])
    return Exit.FINE


def check(options: Namespace) -> Exit:
    """Say whether the log is sound; nothing is changed."""
    from gearlog.services import keeping

    if options.sample:
        raise WrongCallError("the sample is a throw-away copy; check a log of your own: gearlog check --log my-log")
    place, findings = keeping.check(_path(options.log) if options.log is not None else None)
    if options.json:
        output.json({"log": str(place), "findings": findings})
    elif findings:
        output.lines(findings)
    else:
        output.lines([f"{place} is sound"])
    return Exit.FINDING if findings else Exit.FINE


def undo(book: Book, options: Namespace) -> Exit:
    """Take back the last change, also one of an earlier session; with ``--list`` only tell the last ones."""
    if options.list:
        return _done(book, options)
    taken = book.undo()
    if options.json:
        output.json({"undone": taken})
    else:
        output.lines([f"taken back: {taken}" if taken is not None else "there is nothing to take back"])
    return Exit.FINE


def _done(book: Book, options: Namespace) -> Exit:
    found = book.done(LISTED)
    if options.json:
        output.json(found)
    else:
        output.lines([f"{one.at[:MINUTE]} UTC  {one.what}" for one in found] or ["there is nothing to take back"])
    return Exit.FINE


def _path(typed: str) -> Path:
    if not typed.strip() or "\0" in typed:
        raise WrongCallError(f"{quoted(typed)} is no name of a file, for example: log.zip")
    return Path(typed).expanduser()


def _told(found: Verified) -> str:
    """How much there is, in words."""
    records = ", ".join(f"{name.replace('_', ' ')} {count}" for name, count in found.records.items() if count)
    return f"{found.files} files, {found.bytes:,} bytes: {records or 'no records'}"
