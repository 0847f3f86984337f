"""Every error that is told to the user: a title of few words and one clear sentence."""

from __future__ import annotations

from dataclasses import dataclass


class GearlogError(Exception):
    """Base of all errors a user may see.

    Attributes:
        title: few words, what kind of trouble it is.
        message: one line that says what is wrong, where, and what to do.
    """

    title = "Something is wrong"

    def __init__(self, message: str, *, title: str | None = None) -> None:
        super().__init__(message)
        self.message = message
        if title is not None:
            self.title = title


class ReadingError(GearlogError):
    """What was typed could not be read as a quantity, a date or a choice."""

    title = "Not understood"


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with one field of a record or form.

    Attributes:
        field: the field's name as in the record, for example ``diameter``.
        reason: what is wrong with it.
        way_out: what to do, with an example.
    """

    field: str
    reason: str
    way_out: str

    def __str__(self) -> str:
        return f"{self.field}: {self.reason}; {self.way_out}"


class InvalidRecordError(GearlogError):
    """A record breaks its rules; every fault is listed, not only the first."""

    title = "Cannot be saved yet"

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__(" | ".join(str(fault) for fault in faults))
        self.faults = faults


class NotFoundError(GearlogError):
    """No such item, splice, method or file."""

    title = "Not found"


class MethodError(GearlogError):
    """A method file is wrong; the message names file, line and reason.

    Attributes:
        faults: the same, a line for each fault.
    """

    title = "Method file"

    def __init__(self, message: str, *, faults: tuple[str, ...] = ()) -> None:
        super().__init__(message)
        self.faults = faults or (message,)


class StorageError(GearlogError):
    """The log could not be read or written."""

    title = "The log"


class ReadOnlyError(StorageError):
    """The log is open read-only because another program holds it."""

    title = "Read-only"


TRACE = "GEARLOG_TRACE"
"""Environment variable: when set, a fault of the program's own shows its traceback, for a report."""


def own_fault(error: BaseException) -> str:
    """What is told of a fault of the program itself, in one line."""
    return (
        f"a fault of the program itself, {type(error).__name__}: {error}; nothing that was saved is lost; "
        f"to report it, call again with {TRACE}=1"
    )
