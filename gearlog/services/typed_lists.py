"""Tools and hardware typed as a list: a name and its figures, with colons between them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from gearlog.domain.plan_inputs import Hardware, Tool
from gearlog.errors import Fault, ReadingError
from gearlog.services.reading_forms import BLANKS, fault_of
from gearlog.units.measure import Force, Length
from gearlog.units.quoting import quoted
from gearlog.units.visible import visible

TOOL_EXAMPLE = "wire fid:600 mm, or with its thickness wire fid:600 mm:3 mm"
HARDWARE_EXAMPLE = "connector:23 kN, or old ring:unknown"
UNKNOWN = "unknown"
NAME_LENGTH = 60  # characters; a tool's name has about 20
MOST = 20  # entries; a bench has fewer tools, a line fewer parts

Made = TypeVar("Made")


def read_tools(field: str, texts: Sequence[str]) -> tuple[tuple[Tool, ...], list[Fault]]:
    """Tools typed as ``NAME:LENGTH`` or ``NAME:LENGTH:THICKNESS``, and a fault for each that does not read."""
    return _read(field, texts, _tool)


def read_hardware(field: str, texts: Sequence[str]) -> tuple[tuple[Hardware, ...], list[Fault]]:
    """Hardware typed as ``NAME:FORCE`` or ``NAME:unknown``, and a fault for each that does not read."""
    return _read(field, texts, _hardware)


def _read(field: str, texts: Sequence[str], make: Callable[[str], Made]) -> tuple[tuple[Made, ...], list[Fault]]:
    made, faults = [], []
    for text in texts[:MOST]:
        try:
            made.append(make(text))
        except ReadingError as error:
            faults.append(fault_of(field, error))
    if len(texts) > MOST:
        faults.append(Fault(field, f"has {len(texts)} entries", f"type at most {MOST}"))
    return tuple(made), faults


def _tool(text: str) -> Tool:
    name, *sizes = _parts(text, TOOL_EXAMPLE)
    if len(sizes) not in (1, 2):
        raise ReadingError(f"{quoted(text)} is not a tool's name and length; type it as {TOOL_EXAMPLE}")
    length, *thickness = (Length.read(size).si for size in sizes)
    return Tool(name=name, length_m=length, thickness_m=thickness[0] if thickness else None)


def _hardware(text: str) -> Hardware:
    name, *forces = _parts(text, HARDWARE_EXAMPLE)
    if len(forces) != 1:
        raise ReadingError(f"{quoted(text)} is not a name and a breaking strength; type it as {HARDWARE_EXAMPLE}")
    strength = None if forces[0].casefold() == UNKNOWN else Force.read(forces[0]).si
    return Hardware(name=name, strength_n=strength)


def _parts(text: str, example: str) -> list[str]:
    """The parts between colons; the first one is a name that people can read."""
    name, *rest = (part.strip(BLANKS) for part in text.split(":"))
    if not name or len(name) > NAME_LENGTH or visible(name) != name:
        raise ReadingError(f"{quoted(text)} has no name of 1 to {NAME_LENGTH} letters; type it as {example}")
    return [name, *rest]
