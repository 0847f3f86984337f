"""The only writer to standard output, and of the one file that the command line makes."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from pathlib import Path

from gearlog.errors import GearlogError
from gearlog.units.quoting import quoted
from gearlog.units.visible import visible

STANDARD_OUTPUT = "-"
"""The file name that means standard output."""


def lines(rows: Iterable[str]) -> None:
    """Print one line for each row, signs that a terminal would obey shown."""
    for row in rows:
        print(visible(row))


def json(answer: object) -> None:
    """Print an answer as JSON, numbers in SI and not rounded."""
    from gearlog.reports.jsons import to_json

    print(to_json(answer))


def prepare() -> None:
    """Let no name stop the printing: a sign that the terminal cannot show comes as its number."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")


def flush() -> None:
    """Hand everything on; raises BrokenPipeError when nobody reads any more, OSError when nothing can be written."""
    if sys.stdout is not None:  # closed by whoever called: the answer was not wanted
        sys.stdout.flush()


def close_quietly() -> None:
    """Forget what is still to be printed, when it cannot be."""
    hole = os.open(os.devnull, os.O_WRONLY)
    os.dup2(hole, sys.stdout.fileno())
    os.close(hole)


def save(name: str, data: bytes, *, example: str = "--out audit.csv", instead: str = "") -> str:
    """Write ``data`` to the file ``name`` whole or not at all; returns what was done, in words.

    ``-`` is standard output. Where ``instead`` says what to do then, a file that is there stays. Raises GearlogError
    where the file cannot be written; ``example`` is what would do.
    """
    if name == STANDARD_OUTPUT:
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
        return ""
    try:
        return _replace(Path(name).expanduser(), data, instead)
    except (OSError, ValueError, RuntimeError) as error:
        from gearlog.services.handing_out import way_out

        reason = getattr(error, "strerror", None) or error
        todo = way_out(error, "name a file in a folder that you may write to")
        raise GearlogError(f"{quoted(name)} could not be written: {reason}; {todo}, such as {example}") from error


def _replace(path: Path, data: bytes, instead: str) -> str:
    from gearlog.services.handing_out import put_whole

    real = path.resolve()
    if instead and real.is_file():
        raise GearlogError(f"{quoted(str(path))} is there already; {instead}")
    if real.exists() and not real.is_file():
        real.write_bytes(data)  # a device or a pipe is written to, never replaced
        return f"written to {path}"
    there = real.exists()
    put_whole(real, data)
    return f"written to {path}" + (", in place of the file that was there" if there else "")
