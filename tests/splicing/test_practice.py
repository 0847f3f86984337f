"""No common-practice number goes without its label, and the plan's note names each of them."""

from __future__ import annotations

import tomllib
from importlib import resources
from typing import Any

import pytest

from gearlog.domain.plan import Plan
from gearlog.splicing.explain import explain
from gearlog.splicing.explaining.of_eye import BRAID, GEOMETRY, NOTHING_LEARNED, PULLED_FLAT
from gearlog.splicing.explaining.of_strength import LEAST, LIMIT, NOTHING_LOST
from gearlog.splicing.explaining.of_work import EVENLY
from gearlog.splicing.explaining.sheet import DEFINITION, ROUNDED, ROUNDED_UP, TYPED
from gearlog.splicing.method import COMMON_PRACTICE_LABEL, Method
from gearlog.splicing.method_file import load_builtin
from gearlog.splicing.plan import make_plan
from tests.splicing.test_explain import VARIANTS, inputs_of

KEY = "common-practice"
WORDS = {
    "marks": "the order of the marks",
    "pulls": "the pulls",
    "taper": "strands left in the taper",
    "fill": "the most that lies inside",
    "swelling": "braid angle and swelling",
    "finished": "the sum of finished and cut length",
    "bounds": "room between the splices",
    "mark_tolerance": "how far a measure may be off",
    "eye_tolerance": "how far a measure may be off",
}
"""Table of a method file -> how the note names its numbers."""
LIMITS = {"eye_over_pin": "eye over pin", "tool_over_rope": "thickness of the tool"}
WITHOUT_DOCUMENT = (
    *(TYPED, DEFINITION, ROUNDED_UP, ROUNDED, GEOMETRY, BRAID, PULLED_FLAT, EVENLY, LEAST, LIMIT, NOTHING_LOST),
    *(NOTHING_LEARNED, "the user's own", "the method's file", "none were asked for", "braid geometry"),
)


def note_of(plan: Plan) -> str:
    return " ".join(check.message for check in plan.checks if check.code == "common-practice")


def planned(one: Method, **changes: Any) -> Plan:
    return make_plan(one, inputs_of(one, **changes))


def data_of(one: Method) -> dict[str, Any]:
    folder = resources.files("gearlog.splicing") / "methods"
    return tomllib.loads((folder / f"{one.id}.toml").read_text(encoding="utf-8"))


def practised(data: dict[str, Any]) -> set[str]:
    """What the file itself marks as common practice, as the note should name it, read without the program's classes."""
    wanted = {words for name, words in WORDS.items() if name in data and KEY in str(sources(data[name]))}
    wanted |= {words for name, words in LIMITS.items() if data.get("limits", {}).get(f"{name}_source") == KEY}
    wanted |= {count["title"] for count in data.get("counts", []) if count["source"] == KEY}
    counts = data.get("tucks", {}).get("counts", [])
    return wanted | ({"full tucks"} if KEY in sources(counts) else set())


def sources(table: Any) -> list[str]:
    entries = table if isinstance(table, list) else [table]
    return [entry.get("source", "") for entry in entries]


@pytest.mark.parametrize("variant", ["as-asked", "imperial", "both-ends", "bare"])
@pytest.mark.parametrize("one", load_builtin(), ids=lambda one: one.id)
def test_the_note_names_every_number_that_is_common_practice(one: Method, variant: str) -> None:
    plan, data = planned(one, **VARIANTS[variant]), data_of(one)
    if plan.rope_used_m is None:
        return
    note, wanted = note_of(plan), practised(data)
    if plan.finished is None:
        wanted.discard("the sum of finished and cut length")
    wanted |= {length.title for length in plan.lengths if length.common_practice}
    wanted |= {"fid length of 21 d"} if any("fid" in length.formula for length in plan.lengths) else set()
    assert plan.mark_tolerance is not None
    if COMMON_PRACTICE_LABEL in plan.mark_tolerance.source:
        wanted.add("how far a measure may be off")
    wanted |= {"design factor"} if one.carries and plan.inputs.design_factor is None else set()
    missing = {words for words in wanted if words not in note}
    assert not missing, note


@pytest.mark.parametrize("variant", ["as-asked", "measured", "both-ends", "wet", "bare"])
@pytest.mark.parametrize("one", load_builtin(), ids=lambda one: one.id)
def test_every_number_has_a_document_a_reason_or_the_label(one: Method, variant: str) -> None:
    plan = planned(one, **VARIANTS[variant])
    documents = tuple(one.sources.values())
    for each in explain(plan, one):
        known = (*documents, *WITHOUT_DOCUMENT, COMMON_PRACTICE_LABEL, "UFC 4-159-03", "COMDTINST", "no citable source")
        assert any(words in each.source for words in known), (each.key, each.source)
        assert each.common_practice == (COMMON_PRACTICE_LABEL in each.source), each.key


@pytest.mark.parametrize("one", load_builtin(), ids=lambda one: one.id)
def test_a_number_of_the_file_that_is_common_practice_is_so_labelled_in_the_plan(one: Method) -> None:
    plan, data = planned(one), data_of(one)
    rules = {(rule["name"], rule["formula"]): rule["source"] for rule in data["lengths"]}
    for length in plan.lengths:
        assert length.common_practice == (rules[length.name, length.formula] == KEY), length.name
        assert (COMMON_PRACTICE_LABEL in length.source) == length.common_practice
    of_marks = {mark["id"]: mark["source"] for mark in data["marks"]}
    for mark in plan.marks:
        assert mark.common_practice == (of_marks[mark.id] == KEY), mark.id
    for count, rule in zip(plan.counts, data.get("counts", []), strict=True):
        assert (COMMON_PRACTICE_LABEL in count.source) == (rule["source"] == KEY)


def test_what_the_user_measured_is_not_called_common_practice() -> None:
    one = next(method for method in load_builtin() if method.id == "laid-eye")
    assert "lay length" in note_of(planned(one))
    assert "lay length" not in note_of(planned(one, lay_length_m=0.04))
    hollow = next(method for method in load_builtin() if method.id == "hollow-eye")
    assert "braid angle and swelling" in note_of(planned(hollow, braid_angle_deg=21.0))
    assert "braid angle and swelling" not in note_of(planned(hollow, braid_angle_deg=21.0, swelling=1.3))
    assert "design factor" not in note_of(planned(hollow, design_factor=8.0))
