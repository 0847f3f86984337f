"""Words that people use for kinds of gear, makes of rope, fibres and states; one with two meanings is asked about."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from gearlog.domain.fibres import fibre
from gearlog.errors import GearlogError, ReadingError
from gearlog.services.importing_choices import WORDS
from gearlog.units.quoting import quoted

_WORDS: dict[str, dict[str, str]] = {
    "category": {
        "climbing line": "lifeline", "climbing rope": "lifeline", "access line": "lifeline", "access rope": "lifeline",
        "life line": "lifeline", "flip line": "lanyard", "work positioning lanyard": "lanyard",
        "positioning lanyard": "lanyard", "hitch": "hitch-cord", "prusik": "hitch-cord", "prusik cord": "hitch-cord",
        "friction cord": "hitch-cord", "rigging rope": "rigging-line", "lowering line": "rigging-line",
        "lowering rope": "rigging-line", "rigging sling": "sling", "strop": "sling", "webbing sling": "sling",
        "carabiner": "connector", "karabiner": "connector", "snap hook": "connector", "shackle": "connector",
        "maillon": "connector", "block": "pulley", "rigging block": "pulley", "ring": "ring-or-swivel",
        "swivel": "ring-or-swivel", "ascender": "ascender-or-descender", "descender": "ascender-or-descender",
        "rope clamp": "ascender-or-descender", "saddle": "harness", "climbing harness": "harness",
        "climbing helmet": "helmet", "friction saver": "friction-device", "bollard": "friction-device",
        "lowering device": "friction-device", "misc": "other", "miscellaneous": "other",
    },
    "used_for": {
        "life support": "people", "climbing": "people", "ppe": "people", "personal": "people", "lowering": "rigging",
        "accessories": "accessory", "tools": "accessory",
    },
    "construction": {
        "three strand": "three-strand", "3 strand": "three-strand", "laid": "three-strand",
        "hollow": "hollow-braid", "single braid": "hollow-braid", "16 strand": "cover-loaded",
        "cover loaded": "cover-loaded", "cover braid": "cover-loaded", "core loaded": "core-loaded",
        "double": "double-braid", "static": "kernmantle",
        "low stretch": "kernmantle", "not known": "unknown", "?": "unknown",
    },
    "status": {
        "in use": "in-service", "ok": "in-service", "good": "in-service", "active": "in-service", "fit": "in-service",
        "in date": "in-service", "quarantine": "quarantined", "out of service": "quarantined", "on hold": "quarantined",
        "scrapped": "destroyed", "disposed": "destroyed", "disposed of": "destroyed", "withdrawn": "retired",
        "missing": "lost",
    },
}  # fmt: skip
"""Field -> word in small letters, in the singular -> ours. Words that can mean two things are not in it."""
REMEMBERED = 4096  # readings of words; a list repeats a few dozen
_PLURAL = re.compile(r"(?<=[a-z]{3})s\b")


def read_word(field: str, text: str, own: Mapping[str, str]) -> str:
    """Our word for one of the list's; ``own`` are the user's translations. Raises ReadingError."""
    return _word(field, text, tuple(own.items()))


@lru_cache(REMEMBERED)
def _word(field: str, text: str, own: tuple[tuple[str, str], ...]) -> str:
    wanted = _plain(text)
    for theirs, ours in own:
        if _plain(theirs) == wanted:
            return ours
    known = {_plain(ours): ours for ours in WORDS[field]}
    known |= _WORDS.get(field, {})
    for word in (wanted, _PLURAL.sub("", wanted)):
        if word in known:
            return known[word]
    if field in {"cover_fibre", "core_fibre"} and (alias := _fibre(wanted)):
        return alias
    raise ReadingError(f"{quoted(text)} is not a {field.replace('_', ' ')} that is known")


def read_construction(text: str, own: Mapping[str, str]) -> dict[str, str]:
    """A construction, and the strands and the lay that are told with it: ``hollow-braid, 12 strands, loose``."""
    form: dict[str, str] = {}
    rest: list[str] = []
    for part in text.split(","):
        count = re.fullmatch(r"\s*(\d+)\s*-?\s*(?:strands?|carriers?)\s*", part, re.IGNORECASE)
        if count and rest:
            form["strands"] = count[1]
        elif part.strip().casefold() in {"loose", "tight"} and rest:
            form["lay"] = part.strip().casefold()
        else:
            rest.append(part.strip())
    return form | {"construction": read_word("construction", ", ".join(rest), own)}


def fibre_in(words: list[str]) -> str:
    """The one fibre that a text names; empty for none or several."""
    found = {name for word in words if (name := _fibre(word.casefold().strip(".,;()")))}
    return found.pop() if len(found) == 1 else ""


def _fibre(wanted: str) -> str:
    try:
        return fibre(wanted).id
    except GearlogError:
        return ""


def _plain(text: str) -> str:
    return " ".join(text.casefold().replace("-", " ").replace("_", " ").replace("/", " ").split())
