"""The program's door: reads the call, opens the log, runs one verb or the screens, and never shows a traceback."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from gearlog import __version__
from gearlog.cli import diagnostics, output
from gearlog.cli.diagnostics import Exit, WrongCallError
from gearlog.errors import TRACE, GearlogError, own_fault
from gearlog.units.quoting import quoted

if TYPE_CHECKING:
    from gearlog.services.book import Book


def run() -> NoReturn:
    """The console script; what is loaded at the start is no garbage, the screens collect it again later."""
    gc.disable()
    sys.exit(main(sys.argv[1:]))


def main(arguments: Sequence[str], *, today: Callable[[], date] = date.today) -> int:
    """Do what the call asks; returns the exit code. Never raises for any input."""
    output.prepare()
    try:
        code = _call(arguments, today)
        output.flush()
    except SystemExit as end:  # argparse ends so after --help
        return int(end.code or Exit.FINE)
    except GearlogError as error:
        return diagnostics.refuse(error)
    except OSError as error:
        return _unwritten(error)
    except KeyboardInterrupt:
        return Exit.INTERRUPTED
    except Exception as error:
        return _own_fault(error)
    return code


def _unwritten(error: OSError) -> Exit:
    """Whoever read the answer went away, which is quiet, or it has nowhere to go, which is told; or a file refuses."""
    if error.filename is not None:
        diagnostics.tell(f"{quoted(str(error.filename))}: {error.strerror}; see that you may read and write it")
        return Exit.FINDING
    output.close_quietly()
    if isinstance(error, BrokenPipeError):
        return Exit.FINE
    diagnostics.tell(f"the answer could not be written: {error.strerror or error}; send it elsewhere")
    return Exit.FINDING


def _own_fault(error: Exception) -> Exit:
    if os.environ.get(TRACE):
        raise error
    diagnostics.tell(own_fault(error))
    return Exit.OWN_FAULT


def _call(arguments: Sequence[str], today: Callable[[], date]) -> int:
    options = _without_verb(arguments) or _with_verb(arguments)
    if options.version:
        output.lines([f"gearlog {__version__}"])
        return Exit.FINE
    if options.log is not None and options.sample:
        raise WrongCallError("--log and --sample were both given; give one, for example: gearlog --sample list")
    if options.verb is None and not _has_terminal() and not options.sample:
        return _no_terminal()
    if not options.opens:
        return int(options.run(options))
    if options.verb is None and _has_terminal():
        return _screens(options, today)
    with _book(options, today) as book:
        return _serve(book, options)


def _without_verb(arguments: Sequence[str]) -> argparse.Namespace | None:
    """A call that names only a log: the screens come sooner when the verbs' table is not put up first. Else None."""
    log, sample, rest = None, False, list(arguments)
    while rest:
        word = rest.pop(0)
        if word == "--sample":
            sample = True
        elif word == "--log" and rest and not rest[0].startswith("-"):
            log = rest.pop(0)
        else:
            return None
    return argparse.Namespace(log=log, sample=sample, version=False, verb=None, opens=True)


def _with_verb(arguments: Sequence[str]) -> argparse.Namespace:
    from gearlog.cli import parser

    return parser.build().parse_args(arguments)


def _serve(book: Book, options: argparse.Namespace) -> int:
    if options.verb is None:
        from gearlog.cli.tour import tour

        return tour(book)
    for notice in book.notices:
        diagnostics.tell(notice)
    code: int = options.run(book, options)
    return code


def _screens(options: argparse.Namespace, today: Callable[[], date]) -> int:
    """The log is opened while the screens are loaded."""
    from gearlog.services.opening import open_meanwhile, open_sample_meanwhile

    opening = open_sample_meanwhile(today) if options.sample else open_meanwhile(_folder(options.log), today)
    from gearlog.tui.app import run_screens

    return run_screens(opening)


def _has_terminal() -> bool:
    return all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stdout))


def _no_terminal() -> Exit:
    """A script that calls for the screens asked for what cannot be: a wrong call, with the way out."""
    from gearlog.cli import parser

    diagnostics.tell(
        f"the screens need a terminal; without one use a verb: {', '.join(parser.VERBS)}; "
        "for example: gearlog list, or gearlog --sample for a tour in plain text"
    )
    return Exit.WRONG_CALL


def _book(options: argparse.Namespace, today: Callable[[], date]) -> Book:
    from gearlog.services.book import open_book, open_sample

    if options.sample:
        return open_sample(today=today)
    return open_book(_folder(options.log), today=today)


def _folder(typed: str | None) -> Path | None:
    if typed is None:
        return None
    if not typed.strip() or "\0" in typed:
        raise WrongCallError("--log needs the name of a folder, for example: gearlog --log my-log list")
    return Path(typed).expanduser()
