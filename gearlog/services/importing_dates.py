"""Dates as people write them: read where they can mean one day only, asked about where they can mean two."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from datetime import date
from functools import lru_cache

import msgspec

from gearlog.domain.dates import PartialDate
from gearlog.errors import ReadingError
from gearlog.services.importing_tongues import MONTHS as MORE_MONTHS
from gearlog.units.quoting import quoted

MONTHS = (
    ("jan", "january"), ("feb", "february"), ("mar", "march"), ("apr", "april"), ("may", "may"), ("jun", "june"),
    ("jul", "july"), ("aug", "august"), ("sep", "september", "sept"), ("oct", "october"), ("nov", "november"),
    ("dec", "december"),
)  # fmt: skip
"""Names of the months in English."""
_MONTH = {name: number for known in (MONTHS, MORE_MONTHS) for number, names in enumerate(known, 1) for name in names}
_LAST_MONTH = 12
_CENTURY = 2000
REMEMBERED = 4096  # readings of texts; a list has a few thousand days
_THREE = re.compile(r"(\d{1,4})([./-])(\d{1,2})\2(\d{2}|\d{4})", re.ASCII)
_YEAR_FIRST = re.compile(r"(\d{4})[./-](\d{1,2})(?:[./-](\d{1,2}))?", re.ASCII)
_MONTH_YEAR = re.compile(r"(\d{1,2})[./-](\d{4})", re.ASCII)
_NAMED = re.compile(
    r"(?:(\d{1,2})(?:st|nd|rd|th)?[ .-]+)?([a-z]+)[ .,-]+(?:(\d{1,2})(?:st|nd|rd|th)?,?[ ]+)?(\d{4})", re.ASCII
)
_COMPACT = re.compile(r"(\d{4})(\d{2})(\d{2})", re.ASCII)
_SERIAL = re.compile(r"\d{5}", re.ASCII)
_CLOCK = re.compile(r"[ T]00:00(:00)?(\.0+)?Z?$")
ORDER_WORDS = {"dmy": "day, month, year", "mdy": "month, day, year", "ymd": "year, month, day"}


class AmbiguousDateError(ReadingError):
    """A date that can mean two days."""


class Order(msgspec.Struct, frozen=True):
    """In which order a column writes its dates, and why that is sure.

    Attributes:
        order: ``dmy``, ``mdy`` or empty.
        proof: the date that can be read in this order only, or empty.
    """

    order: str = ""
    proof: str = ""


def order_of(texts: Iterable[str]) -> Order:
    """The order that the dates of one column prove; none where nothing or both are proved."""
    proved: dict[str, str] = {}
    for text in texts:
        found = _THREE.fullmatch(text.strip())
        if found is None or len(found[1]) > len("31"):
            continue
        first, second = int(found[1]), int(found[3])
        if first > _LAST_MONTH >= second:
            proved.setdefault("dmy", text)
        elif second > _LAST_MONTH >= first:
            proved.setdefault("mdy", text)
    return Order(*next(iter(proved.items()))) if len(proved) == 1 else Order()


@lru_cache(REMEMBERED)
def read_date(text: str, order: str, today: date) -> str:
    """The date as ISO 8601, to the day, the month or the year.

    Raises AmbiguousDateError where ``order`` is empty and needed, ReadingError for what is no date.
    """
    typed = _CLOCK.sub("", text.strip())
    for reader in (_iso, _compact, _month_year, _named):
        found = reader(typed)
        if found:
            return _checked(found, text)
    parts = _THREE.fullmatch(typed)
    if parts is None:
        raise ReadingError(f"{quoted(text)} is not a date{_hint(typed)}")
    return _checked(_three(parts, order, text, today), text)


def _iso(typed: str) -> str:
    found = _YEAR_FIRST.fullmatch(typed)
    if found is None:
        return typed if re.fullmatch(r"\d{4}", typed, re.ASCII) else ""
    return "-".join([found[1], *(f"{int(part):02d}" for part in found.groups()[1:] if part)])


def _compact(typed: str) -> str:
    found = _COMPACT.fullmatch(typed)
    return "-".join(found.groups()) if found else ""


def _month_year(typed: str) -> str:
    found = _MONTH_YEAR.fullmatch(typed)
    return f"{found[2]}-{int(found[1]):02d}" if found else ""


def _named(typed: str) -> str:
    """``3 April 2024``, ``April 3, 2024``, ``Apr 2024``."""
    bare = unicodedata.normalize("NFKD", typed.casefold())
    found = _NAMED.fullmatch("".join(sign for sign in bare if not unicodedata.combining(sign)))
    month = _MONTH.get(found[2]) if found else None
    if found is None or month is None or (found[1] and found[3]):
        return ""
    day = found[1] or found[3]
    return f"{found[4]}-{month:02d}" + (f"-{int(day):02d}" if day else "")


def _three(parts: re.Match[str], order: str, text: str, today: date) -> str:
    """Three numbers, of which the last is the year unless the order says otherwise."""
    first, sign, second, last = parts.groups()
    if order == "ymd":
        return f"{_year(first, text, today)}-{int(second):02d}-{int(last):02d}"
    if len(last) == len("24") and not order:
        raise AmbiguousDateError(f"{quoted(text)} has a year of two digits")
    year, one, two = _year(last, text, today), int(first), int(second)
    _check_order(order, one, two, text)
    if order == "mdy":
        return f"{year}-{one:02d}-{two:02d}"
    if order == "dmy" or sign == "." or one > _LAST_MONTH or one == two:
        return f"{year}-{two:02d}-{one:02d}"
    if two > _LAST_MONTH:
        return f"{year}-{one:02d}-{two:02d}"
    either = f"{year}-{two:02d}-{one:02d} or {year}-{one:02d}-{two:02d}"
    raise AmbiguousDateError(f"{quoted(text)} can mean {either}")


def _check_order(order: str, first: int, second: int, text: str) -> None:
    """A date that can be read in the other order only is said to be one, and not a wrong date."""
    month, day = (first, second) if order == "mdy" else (second, first)
    if order and month > _LAST_MONTH >= day:
        raise ReadingError(f"{quoted(text)} does not fit the order {ORDER_WORDS[order]}; write it as 2024-05-31")


def _year(digits: str, text: str, today: date) -> str:
    """Four digits as they are; of two the last year that has them and is not to come."""
    if len(digits) == len("2024"):
        return digits
    if len(digits) != len("24"):
        raise ReadingError(f"{quoted(text)} is not a date")
    year = _CENTURY + int(digits)
    return str(year if year <= today.year else year - 100)


def _checked(iso: str, text: str) -> str:
    try:
        return PartialDate.read(iso).text
    except ReadingError as error:
        raise ReadingError(f"{quoted(text)} is not a date that can be") from error


def _hint(typed: str) -> str:
    if _SERIAL.fullmatch(typed):
        return ", but may be a spreadsheet's number of a day; format the column as a date and export it again"
    return "; write it as 2024-05-31, 2024-05 or 2024"


def in_words(order: Order, columns: Sequence[str]) -> str:
    """What to tell about an order that was found out."""
    return (
        f"dates in {', '.join(columns)} read as {ORDER_WORDS[order.order]}, because {order.proof} can be nothing else"
    )
