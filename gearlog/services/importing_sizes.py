"""Free text about a rope, such as ``45m 11.7mm``: taken apart where that is certain, asked about where it is not."""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

from gearlog.errors import ReadingError
from gearlog.services.importing_measures import DecimalAskedError, read_measure
from gearlog.services.importing_words import fibre_in
from gearlog.units.measure import Length

THICKEST_M = 0.1  # m; the thickest rope that a log takes
SHORTEST_M = 0.3  # m; no rope is bought shorter
_NUMBER = r"\d[\d.,]*(?:[ -]\d+/\d+)?(?:/\d+)?"
_LENGTHS = r"mm|cm|mtrs?|met(?:re|er)s?|m|inch(?:es)?|in|feet|foot|ft|\"|'"
_FORCES = r"kN|daN|kgf?|lbf|lbs?"
_TOKEN = re.compile(
    rf"(?P<length>{_NUMBER}\s*(?:{_LENGTHS}))(?![a-z])|(?P<force>{_NUMBER}\s*(?:{_FORCES}))(?![a-z])"
    rf"|(?P<strands>\d+)[ -]?strands?(?![a-z])|(?P<bare>(?<![\w.-])\d[\d.,/]*(?![\w-]))|(?P<word>[^\s,;]+)",
    re.IGNORECASE,
)
_JOINING = frozenset({"x", "/", "-", "by", "@", "dia", "diameter", "long", "length", "rope", "line", "&", "and", "+"})
"""Words between sizes that say nothing of their own."""


class Taken(msgspec.Struct, frozen=True):
    """What a text was taken apart into.

    Attributes:
        form: fields and their texts.
        rest: words that say something else; the whole text is kept then.
    """

    form: dict[str, str]
    rest: str


def take_apart(text: str, decimal: str) -> Taken:
    """The sizes in a text; raises ReadingError, with what is not certain, where one of them can mean two things."""
    found = list(_TOKEN.finditer(text))
    bare = [match["bare"] for match in found if match["bare"]]
    if bare:
        raise ReadingError(f"it is not certain what {', '.join(bare)} is")
    form = dict(_lengths([match["length"] for match in found if match["length"]], decimal))
    form |= _one("breaking_strength", [match["force"] for match in found if match["force"]], decimal)
    strands = [match["strands"] for match in found if match["strands"]]
    if len(strands) == 1:
        form["strands"] = strands[0]
    words = [match["word"] for match in found if match["word"]]
    fibre = fibre_in(words)
    if fibre:
        form["cover_fibre"] = fibre
    return Taken(form, " ".join(word for word in words if word.casefold() not in _JOINING))


def sizes_in(name: str, decimal: str) -> dict[str, str]:
    """The length and the diameter that a name tells for certain; nothing where it is in doubt."""
    tokens = [match["length"] for match in _TOKEN.finditer(name) if match["length"]]
    try:
        return dict(_lengths(tokens, decimal)) if tokens else {}
    except ReadingError:
        return {}


def _lengths(texts: list[str], decimal: str) -> Iterator[tuple[str, str]]:
    """The thin one is the diameter, the long one the length; two of a sort, or one between, are in doubt."""
    measures = [_measure(text, "diameter", decimal) for text in texts]
    thin = [one for one in measures if Length.read(one).si <= THICKEST_M]
    long = [one for one in measures if Length.read(one).si >= SHORTEST_M]
    if len(thin) + len(long) < len(measures):
        raise ReadingError(f"it is not certain whether {' or '.join(measures)} is a length or a diameter")
    for field, ones in (("diameter", thin), ("length_bought", long)):
        if len(ones) > 1:
            raise ReadingError(f"it is not certain which of {', '.join(ones)} is the {field.partition('_')[0]}")
        if ones:
            yield field, ones[0]


def _one(field: str, texts: list[str], decimal: str) -> dict[str, str]:
    if len(texts) > 1:
        raise ReadingError(f"it is not certain which of {', '.join(texts)} is the {field.replace('_', ' ')}")
    return {field: _measure(texts[0], field, decimal)} if texts else {}


def _measure(text: str, field: str, decimal: str) -> str:
    try:
        return read_measure(text, field, "", decimal)[0]
    except DecimalAskedError as error:
        raise ReadingError(f"it is not certain: {error.message}") from error
