"""Opening a file with the system's own viewer, beside the screens."""

from __future__ import annotations

import subprocess
from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gearlog.tui.app import GearlogApp

PATIENCE_S = 5.0
"""Seconds to wait for a viewer that says at once that it cannot; one that stays open is left alone."""


def show(app: GearlogApp, command: Sequence[str]) -> None:
    """Ask the viewer in a thread of its own; what it refuses is told."""

    def view() -> None:
        refused = opened(command)
        if refused is not None:
            app.call_from_thread(app.tell, refused, "error")

    app.tell("The system's viewer is asked to show it.")
    app.run_worker(view, thread=True, group="viewer", exit_on_error=False)


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
