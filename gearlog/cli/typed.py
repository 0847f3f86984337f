"""What was typed into options, as the forms of the services take it, and their refusals in the words of the options."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager

from gearlog.cli.diagnostics import WrongCallError
from gearlog.domain.dates import PartialDate
from gearlog.errors import Fault, GearlogError, InvalidRecordError
from gearlog.services.forms import Field
from gearlog.units.quoting import quoted
from gearlog.units.reading import read_whole

LONGEST_SPAN = 36_525  # days, a hundred years; more is a slip of the finger


def typed(fields: Sequence[Field], options: Namespace) -> dict[str, str]:
    """Every field that was given; what was given in parts is joined with commas."""
    found: dict[str, str] = {}
    for field in fields:
        value = getattr(options, field.name, None)
        if value is not None:
            found[field.name] = value if isinstance(value, str) else ", ".join(value)
    return found


@contextmanager
def named(names: Mapping[str, str]) -> Iterator[None]:
    """Tell the faults of a form under the names of the options that were typed."""
    try:
        yield
    except InvalidRecordError as error:
        faults = (Fault(names.get(fault.field, fault.field), fault.reason, fault.way_out) for fault in error.faults)
        raise InvalidRecordError(tuple(faults)) from error


def day_of(text: str | None, option: str) -> PartialDate | None:
    """The day that an option names, or None; raises WrongCallError for what is not known to the day."""
    if text is None:
        return None
    try:
        day = PartialDate.read(text)
    except GearlogError as error:
        raise WrongCallError(f"{option}: {error.message}") from error
    if day.earliest() != day.latest():
        raise WrongCallError(f"{option}: {quoted(text)} is not a day; type a date like 2024-05-31")
    return day


def days_of(text: str | None, option: str, usual: int) -> int:
    """The number of days that an option names; raises WrongCallError."""
    if text is None:
        return usual
    try:
        return read_whole(text, least=0, most=LONGEST_SPAN, what="number of days")
    except GearlogError as error:
        raise WrongCallError(f"{option}: {error.message}; for example: gearlog due --within 60") from error
