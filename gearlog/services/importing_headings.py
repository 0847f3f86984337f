"""Headings that people write over their columns, and which particular each of them means."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence

from gearlog.services.importing_tongues import FRENCH, GERMAN

KNOWN: dict[str, tuple[str, ...]] = {
    "tag": ("tag", "id", "item no", "item number", "no", "nr", "number", "inventory no", "inventory number",
            "asset no", "asset number", "our no", "our number", "mark", "label"),
    "name": ("name", "item", "description", "rope", "gear", "equipment", "what", "article", "item name"),
    "category": ("category", "type", "kind", "class", "group", "type of gear"),
    "used_for": ("used for", "use", "purpose"),
    "maker": ("maker", "manufacturer", "brand", "make", "made by", "producer"),
    "model": ("model", "model name", "product", "trade name", "product name"),
    "contact": ("contact of maker or supplier", "supplier s contact", "contact", "supplier contact", "maker contact",
                "supplier", "bought from", "purchased from", "dealer", "vendor", "shop"),
    "serial": ("serial", "serial no", "serial number", "serial or batch", "batch", "batch no", "batch number", "lot",
               "lot no", "s n", "sn", "serial batch"),
    "standards": ("standards", "standard", "standards claimed", "norm", "norms", "conformity", "certification"),
    "breaking_strength": ("breaking strength as printed", "breaking strength", "strength", "mbs", "mbl",
                          "breaking load", "breaking force", "minimum breaking strength", "tensile strength"),
    "safe_working_load": ("safe working load as stated", "safe working load", "swl", "wll", "working load limit",
                          "working load"),
    "made_on": ("made on", "made", "manufactured", "date of manufacture", "manufacture date", "year of manufacture",
                "year made", "production date", "produced", "year", "mfg date"),
    "bought_on": ("bought on", "bought", "purchased", "date of purchase", "purchase date", "acquired", "purchase"),
    "first_used_on": ("first used on", "first used", "first use", "date of first use", "in use since",
                      "in service since", "put into use", "start of use"),
    "life_years_from_made": ("life years from made", "life years", "lifespan years", "max life years", "life"),
    "life_years_from_first_use": ("life years from first use",),
    "assigned_to": ("assigned to", "assigned", "user", "climber", "who", "holder", "issued to", "who has it"),
    "kept_at": ("kept at", "location", "place", "where", "storage", "stored", "stored at", "vehicle", "kept"),
    "documents": ("documents", "papers", "receipt"),
    "notes": ("notes", "note", "remarks", "remark", "comments", "comment"),
    "life_read_at": ("life limit read in",),
    "came": ("bought new or used", "new or used"),
    "gate": ("gate",),
    "gate_open_strength": ("strength with gate open", "gate open strength"),
    "minor_axis_strength": ("strength across", "minor axis strength"),
    "colour_mark": ("colour mark", "color mark", "colour", "color", "marking"),
    "construction": ("construction", "build", "braid", "rope type"),
    "strands": ("strands or carriers", "strands", "carriers"),
    "cover_fibre": ("fibre of strands or cover", "fibre", "fiber", "material", "cover", "cover fibre",
                    "cover material"),
    "core_fibre": ("fibre of core", "core", "core fibre", "core material"),
    "diameter": ("diameter", "dia", "diam", "thickness", "o", "rope diameter"),
    "length_bought": ("length now", "length bought", "length as bought", "length", "rope length"),
    "size": ("size", "dimensions", "dimension", "spec", "specs", "specification", "rope size", "length and diameter",
             "length diameter", "details"),
    "status": ("status", "state"),
    "examined_on": ("last examined on", "last examined", "examined on", "examined", "last inspection", "last inspected",
                    "inspected", "inspected on", "inspection date", "date of inspection", "last check", "checked on",
                    "last examination"),
    "examined_by": ("examined by", "inspected by", "inspector", "checked by", "by"),
    "next_due_on": ("next due on", "next due", "next inspection", "next examination", "inspection due", "due date",
                    "due on", "next check"),
    "end_a": ("end a",),
    "end_b": ("end b",),
    "cut_from": ("cut from",),
}  # fmt: skip
"""Field -> headings that mean it, the surest first; in small letters, only letters, digits and spaces."""
DERIVED = frozenset(
    {"due", "due because", "end of life on", "end of life because", "gaps",
     "examinations"}
)  # fmt: skip
"""Headings of our own list that are worked out from the rest."""
TAKEN_TOGETHER = frozenset({"notes", "documents"})
"""Fields that may come from several columns."""
_LATER = 100  # places; our own tongue goes before others
_MEANS = {
    heading: (field, place)
    for known, later in ((GERMAN, _LATER), (FRENCH, _LATER), (KNOWN, 0))
    for field, headings in known.items()
    for place, heading in enumerate(headings, later)
}
_UNIT = re.compile(r"[(\[]\s*([^)\]]+?)\s*[)\]]|\bin\s+(mm|cm|m|kN|kg|lbf?)\s*$|,\s*(mm|cm|m|kN|kg|lbf?)\s*$")
"""A unit behind a heading: ``(kN)``, ``[mm]``, ``in kN`` or ``, m``."""


def unit_of(heading: str) -> tuple[str, str]:
    """A heading without its unit, and the unit as it is written; empty where none is named."""
    found = _UNIT.search(heading)
    if found is None:
        return heading, ""
    return heading[: found.start()] + heading[found.end() :], next(group for group in found.groups() if group)


def plain(heading: str) -> str:
    """A heading in small letters without signs and marks: ``Ser. No.:`` is ``ser no``."""
    bare = unicodedata.normalize("NFKD", unit_of(heading)[0].casefold().replace("\u00f8", "o"))
    kept = "".join(sign if sign.isalnum() else " " for sign in bare if not unicodedata.combining(sign))
    return " ".join(kept.split())


def meaning(heading: str) -> str:
    """The field that a heading means; empty where it is not known."""
    return _MEANS.get(plain(heading), ("", 0))[0]


def score(cells: Sequence[str]) -> int:
    """How many different particulars a line names, when it is read as a line of headings."""
    return len({field for cell in cells if (field := meaning(cell))})


def matched(headings: Sequence[str], chosen: Mapping[str, str]) -> list[tuple[str, str]]:
    """For each heading its field and how it was found; a field goes to the heading that means it most surely.

    ``chosen`` are the user's own words, heading -> field; ``-`` leaves a column out.
    """
    own = {plain_key(heading): field for heading, field in chosen.items()}
    found = [_match(heading, own) for heading in headings]
    best: dict[str, int] = {}
    for place, (field, rank, _) in enumerate(found):
        if field and field not in TAKEN_TOGETHER and (field not in best or rank < found[best[field]][1]):
            best[field] = place
    told = []
    for place, (field, _, why) in enumerate(found):
        if field and field not in TAKEN_TOGETHER and best[field] != place:
            told.append(("", f"not used: {headings[best[field]]} tells the same"))
        else:
            told.append((field, why))
    return told


def plain_key(heading: str) -> str:
    """What two spellings of one heading have in common, its unit included."""
    return " ".join(heading.casefold().split())


def _match(heading: str, own: Mapping[str, str]) -> tuple[str, int, str]:
    """The field, how sure it is (less is surer), and how it was found."""
    if plain_key(heading) in own:
        field = own[plain_key(heading)]
        return ("", 0, "left out, as you said") if field == LEFT_OUT else (field, -1, "as you said")
    name = plain(heading)
    if name in DERIVED:
        return "", 0, "not used: worked out from the rest"
    field, rank = _MEANS.get(name, ("", 0))
    if not field:
        return "", 0, "not used: not a heading that is known" if name else "not used: no heading"
    return field, rank, "by its name"


LEFT_OUT = "-"
"""In a mapping, the field of a column that is not used."""
