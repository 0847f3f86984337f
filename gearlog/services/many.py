"""Equal items in one go: one form, told apart by their serials or only counted."""

from __future__ import annotations

import re

from gearlog.errors import Fault, InvalidRecordError, ReadingError
from gearlog.services.reading_forms import BLANKS, Form, fault_of
from gearlog.units.quoting import quoted
from gearlog.units.reading import read_whole

MOST = 500  # items in one go; a van holds fewer, above it a digit slipped
_RANGE = re.compile(r"(.*?)(\d+)\s*\.\.\s*(.*?)(\d+)")
EXAMPLE = "type them like F101, F102 or F101..F110"


def many(form: Form, serials: str, count: str) -> tuple[dict[str, str], ...]:
    """One form for each item; raises InvalidRecordError.

    A tag that was typed is counted on: ``con-7`` is followed by ``con-8``. Without one each tag is made from the name.
    """
    typed = _serials(serials)
    number = _count(count, len(typed))
    tags = _tags(form.get("tag", "").strip(BLANKS), number)
    own = typed or [form.get("serial", "")] * number
    return tuple({**form, "tag": tag, "serial": serial} for tag, serial in zip(tags, own, strict=True))


def _count(text: str, serials: int) -> int:
    typed = text.strip(BLANKS)
    if not typed and not serials:
        raise InvalidRecordError((Fault("count", "is empty", "type how many, such as 10, or their serials"),))
    if not typed:
        return serials
    try:
        number = read_whole(typed, least=1, most=MOST, what="count")
    except ReadingError as error:
        raise InvalidRecordError((fault_of("count", error),)) from error
    if serials and serials != number:
        reason = f"is {number}, but {serials} serials are given"
        raise InvalidRecordError((Fault("count", reason, "correct one of the two"),))
    return number


def _serials(text: str) -> list[str]:
    parts = [part.strip(BLANKS) for part in text.split(",") if part.strip(BLANKS)]
    found = [serial for part in parts for serial in _part(part)]
    twice = next((one for place, one in enumerate(found) if one in found[:place]), None)
    if twice is not None:
        raise InvalidRecordError((Fault("serials", f"{quoted(twice)} stands there twice", EXAMPLE),))
    if len(found) > MOST:
        raise InvalidRecordError((Fault("serials", f"are {len(found)}, more than {MOST}", EXAMPLE),))
    return found


def _part(part: str) -> list[str]:
    """One serial, or all from the first to the last of a range, with leading zeros as typed."""
    match = _RANGE.fullmatch(part)
    if match is None:
        return [part]
    before, first, again, last = match.groups()
    digits = len(first)
    if again not in ("", before) or not int(first) <= int(last) < int(first) + MOST:
        raise InvalidRecordError((Fault("serials", f"{quoted(part)} is no range", EXAMPLE),))
    return [f"{before}{number:0{digits}d}" for number in range(int(first), int(last) + 1)]


def _tags(typed: str, number: int) -> list[str]:
    if not typed:
        return [""] * number
    match = re.fullmatch(r"(.*?)(\d+)", typed)
    before, first = (match[1], match[2]) if match else (f"{typed}-", "1")
    return [f"{before}{int(first) + step:0{len(first)}d}" for step in range(number)]
