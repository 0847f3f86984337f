"""The only writer to standard error, and what the exit codes mean."""

from __future__ import annotations

import sys
from enum import IntEnum

from gearlog.errors import GearlogError, InvalidRecordError, StorageError
from gearlog.units.visible import visible

MOST = 600  # characters of one message, about eight lines of a small screen; what was typed can be endless


class Exit(IntEnum):
    """What a call ends with."""

    FINE = 0
    FINDING = 1  # a plan that stops, a file that is damaged
    WRONG_CALL = 2  # what was asked cannot be understood or is not there
    OWN_FAULT = 3  # the program went wrong; no input should ever lead here
    INTERRUPTED = 130  # ctrl+c, as shells say it


class WrongCallError(GearlogError):
    """The options do not say what to do; the message holds an example."""

    title = "Wrong call"


def tell(message: str) -> None:
    """Print one line to standard error."""
    shown = visible(message)
    cut = shown if len(shown) <= MOST else f"{shown[:MOST]}... (cut)"
    print(f"gearlog: {cut}", file=sys.stderr)


def refuse(error: GearlogError) -> Exit:
    """Tell the error in one line; returns what the call ends with."""
    tell(_in_options(error) if isinstance(error, InvalidRecordError) else error.message)
    return Exit.FINDING if isinstance(error, StorageError) else Exit.WRONG_CALL


def _in_options(error: InvalidRecordError) -> str:
    return " | ".join(f"{_option(fault.field)}: {fault.reason}; {fault.way_out}" for fault in error.faults)


def _option(field: str) -> str:
    if field.isupper():
        return field
    return "METHOD" if field == "method" else "--" + field.replace("_", "-")
