"""JSON for programs: every key in the order of its record, numbers in SI and not rounded."""

from __future__ import annotations

import json
import re
from decimal import Decimal
from fractions import Fraction
from typing import Any

import msgspec

from gearlog.domain.dates import PartialDate
from gearlog.units.measure import Force, Length, LinearMass, Measure

SI_UNITS: dict[type[Measure], str] = {Length: "m", Force: "N", LinearMass: "kg/m"}
"""Which unit ``si`` is in, by kind of measure."""
_TO_ESCAPE = re.compile(
    "[\x7f-\x9f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb\ud800-\udfff]"
)
"""Signs that a terminal obeys or hides and halves of pairs; JSON carries them as ``\\uXXXX`` just as well."""


def to_json(obj: object) -> str:
    """``obj``, a record, a dataclass or a collection of them, as JSON text that is always valid UTF-8.

    A measure becomes ``{"text": as typed, "si": number, "unit": "m"}``. Raises ValueError for a number
    that is none (NaN or infinite), because JSON has no word for it.
    """
    plain = msgspec.to_builtins(obj, enc_hook=_plain, str_keys=True, builtin_types=(Decimal,))
    text = json.dumps(plain, ensure_ascii=False, allow_nan=False, indent=2, default=float)
    return _TO_ESCAPE.sub(_escaped, text)


def _plain(value: object) -> Any:
    if isinstance(value, Measure):
        return {"text": value.text, "si": value.si, "unit": SI_UNITS[type(value)]}
    if isinstance(value, PartialDate):
        return value.text
    if isinstance(value, Fraction):
        return float(value)
    raise TypeError(f"no JSON for {type(value).__name__}")


def _escaped(match: re.Match[str]) -> str:
    return f"\\u{ord(match[0]):04x}"
