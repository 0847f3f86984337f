"""No number of a built-in method stands under a document that does not give it: the rest bears the label.

The table says which document gives which number (trade.md part B). Whatever is not in it is from memory (part C).
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import resources
from typing import Any

import pytest

from gearlog.splicing.method import Method
from gearlog.splicing.method_file import load_builtin

LABEL = "common-practice"
CFR, CFR_1926, TM, ISO = "cfr-1910-184", "cfr-1926-251", "tm-5-684", "iso-2307"
DOCUMENTED: dict[tuple[str, str], set[str]] = {
    ("throat_angle_deg", "60"): {CFR, CFR_1926},  # 29 CFR 1926.251(d)(2)
    ("pin_over_rope", "2"): {CFR},  # 29 CFR 1910.184 Fig. N-184-4
    ("eye_over_rope", "6"): {ISO},  # ISO 2307:2010 5.1
    ("clear_over_rope", "10"): {CFR, CFR_1926},  # 29 CFR 1910.184(h)(3), 1926.251(d)
    ("lengths tail", "6 * d"): {CFR},  # 29 CFR 1910.184(h)(3)(iii)
    ("lengths tail", "6 * inch"): {CFR},  # the same
    ("lengths unlay", "12 * lay"): {TM},  # TM 5-684 / NAVFAC MO-200, 15-24 c
    ("lengths apart", "9 * inch"): {TM},  # the same
    ("lengths left", "7 * inch"): {TM},  # the same
    ("marks 2", "unlay + apart"): {TM},  # the same
    ("bounds unlay-too-short", "unlay - apart - left"): {TM},  # the same
    ("counts", "3"): {CFR, CFR_1926},  # 29 CFR 1910.184(h)(3)(i), 1926.251(d)(2)(i)
    ("counts", "4"): {CFR, CFR_1926, "navedtra-14067"},  # (h)(3)(ii), (d)(2); NAVEDTRA 14067 ch. 3
    ("tapered", "2"): {CFR, TM},  # (h)(3)(iii); 15-24 b
    ("strength", "0.9"): {"comdtinst", "navedtra-14251"},  # COMDTINST M16114.5C Table 7-6; ch. 4
    ("strength", "0.85"): {"comdtinst", "navedtra-14251"},  # the same
    ("bounds splices-too-close", "cut - 2 * (fid + loop + fid + 2 * short) - 10 * d"): {CFR},  # 1910.184(h)(3)
}
"""Number of a method file -> the documents that may be named for it."""
VALUES = ("extra", "formula", "at", "count", "fraction", "least", "start", "cut", "within", "full", "most", "part")
NAMES = ("id", "name", "code")
WORDS = frozenset({"sources", "remarks", "fits"})
"""Tables that tell words, not numbers."""


@dataclass(frozen=True)
class Claim:
    """A number of a file, the source that is named for it, and where that source stands."""

    number: tuple[str, str]
    source: str
    entry: dict[str, Any]
    key: str

    @property
    def true(self) -> bool:
        """Whether each document named gives the number."""
        named = {part.split()[0] for part in self.source.split("+")}
        return named <= {LABEL, *DOCUMENTED.get(self.number, ())}


def claims(tables: dict[str, Any]) -> Iterator[Claim]:
    """Every number with a source, tables within tables too."""
    for table, content in tables.items():
        if table in WORDS:
            continue
        for entry in content if isinstance(content, list) else [content]:
            if isinstance(entry, dict):
                yield from _of_entry(table, entry)
                yield from claims(entry)


def _of_entry(table: str, entry: dict[str, Any]) -> Iterator[Claim]:
    for key, source in entry.items():
        if key == "source" and source:
            name = next((entry[one] for one in NAMES if one in entry), "")
            value = next(str(entry[one]) for one in VALUES if one in entry)
            yield Claim((f"{table} {name}".strip(), value), source, entry, key)
        elif key.endswith("_source"):
            limit = key.removesuffix("_source")
            yield Claim((limit, str(entry[limit])), source, entry, key)


def data_of(one: Method) -> dict[str, Any]:
    folder = resources.files("gearlog.splicing") / "methods"
    return tomllib.loads((folder / f"{one.id}.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("one", load_builtin(), ids=lambda one: one.id)
def test_each_document_gives_the_number_that_it_is_named_for(one: Method) -> None:
    assert [claim.number for claim in claims(data_of(one)) if not claim.true] == []


@pytest.mark.parametrize("one", load_builtin(), ids=lambda one: one.id)
def test_a_number_from_memory_under_a_documents_name_is_found(one: Method) -> None:
    """Each label in turn is taken off, and a document put in its place."""
    data = data_of(one)
    labelled = [claim for claim in claims(data) if claim.source == LABEL]
    assert len(labelled) >= len(one.marks)
    for claim in labelled:
        claim.entry[claim.key] = ISO
        assert [one.number for one in claims(data) if not one.true] == [claim.number]
        claim.entry[claim.key] = LABEL


def test_every_number_of_the_table_is_in_a_method() -> None:
    there = {claim.number for one in load_builtin() for claim in claims(data_of(one))}
    assert DOCUMENTED.keys() <= there
