"""Opening a file with the system's own viewer; to be called off the screens' thread."""

from __future__ import annotations

import subprocess
from collections.abc import Sequence

PATIENCE_S = 5.0
"""Seconds to wait for a viewer that says at once that it cannot; one that stays open is left alone."""


def opened(command: Sequence[str]) -> str | None:
    """Start ``command`` without a shell; None when it runs, else why not, in one line."""
    name = command[0]
    try:
        viewer = subprocess.Popen(  # noqa: S603 (program and file are named by the services, no shell takes part)
            list(command),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
    except OSError as error:
        reason = "is not installed" if isinstance(error, FileNotFoundError) else f"does not start ({error.strerror})"
        return f"No picture is shown: {name} {reason}; the file is {command[-1]}"
    try:
        code = viewer.wait(PATIENCE_S)
    except subprocess.TimeoutExpired:
        return None  # it shows the picture
    return f"No picture is shown: {name} found no viewer; the file is {command[-1]}" if code else None
