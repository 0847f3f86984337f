from __future__ import annotations

import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import Unit
from gearlog.reports.card import card_svg, svg_drawing
from gearlog.reports.card.vector.lying import lying_axis
from tests.reports.card.plans import NAMES, plan_of

SVG = "{http://www.w3.org/2000/svg}"
WIDTH, LEFT, BEYOND = 186.0, 14.0, 6.0  # mm: the sheet, the name of the part, rope drawn past the last mark


def root_of(text: str | bytes) -> ET.Element:
    return ET.fromstring(text)  # noqa: S314 (our own output)


def mark_places(drawing: str) -> dict[str, float]:
    """Where the lines of the marks stand in the rope as it lies, which is drawn first (mm)."""
    places: dict[str, float] = {}
    for line in root_of(drawing).iter(f"{SVG}polyline"):
        letter = line.get("data-mark")
        if letter and letter not in places:
            first, last = (tuple(map(float, point.split(","))) for point in line.get("points", "").split())
            assert first[0] == last[0]
            places[letter] = first[0]
    return places


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("name", NAMES)
def test_marks_stand_to_scale_at_their_distance(name: str, unit: Unit) -> None:
    """Uncut, the last mark or stretch lies 6 mm from the edge, so that the scale follows; cut, the axis tells it."""
    plan = plan_of(name, unit=unit)
    places, axis = mark_places(svg_drawing(plan)), lying_axis(plan, WIDTH)
    last = max(*(mark.at_m for mark in plan.marks), *(span.to_m for span in plan.spans if span.kind != "standing"))
    for mark in plan.marks:
        exact = LEFT + mark.at_m / last * (WIDTH - LEFT - BEYOND) if not axis.cuts() else axis.place(mark.at_m)
        assert places[mark.letter] == pytest.approx(exact, abs=0.002)


@pytest.mark.parametrize("name", ["hollow-loop", "hollow-sling", "double-cord"])
def test_both_sides_of_a_cut_are_to_one_scale(name: str) -> None:
    """Of two neighbours on one side the distance on paper over that on the rope is one number, told by their marks."""
    plan = plan_of(name)
    places = mark_places(svg_drawing(plan))
    ratios = [
        (places[after.letter] - places[before.letter]) / (after.at_m - before.at_m)
        for before, after in pairwise(plan.marks)
    ]
    assert len(lying_axis(plan, WIDTH).cuts()) >= 1
    assert sum(ratio == pytest.approx(max(ratios), rel=0.001) for ratio in ratios) >= len(ratios) - 2


@pytest.mark.parametrize("name", NAMES)
def test_the_drawing_is_black_on_white_inside_its_sheet_and_needs_nothing_else(name: str) -> None:
    plan = plan_of(name)
    root = root_of(svg_drawing(plan))
    height = float(root.get("viewBox", "").split()[3])
    for element in root.iter():
        assert element.tag in {f"{SVG}{tag}" for tag in ("svg", "title", "text", "polyline", "polygon")}
        assert {element.get("fill", "black"), element.get("stroke", "none")} <= {"black", "white", "none"}
        for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", element.get("points", "")):
            assert -3 <= float(x) <= WIDTH + 3
            assert -1e-6 <= float(y) <= height + 1e-6
    letters = {element.text for element in root.iter(f"{SVG}text")}
    assert {mark.letter for mark in plan.marks} <= letters


@settings(max_examples=60)
@given(
    name=st.sampled_from(NAMES),
    diameter=st.floats(0.003, 0.08),
    eye=st.floats(0.01, 5),
    finished=st.floats(0.5, 300),
    tapered=st.booleans(),
)
def test_any_rope_and_eye_make_a_drawing_whose_numbers_are_finite(
    name: str, diameter: float, eye: float, finished: float, tapered: bool
) -> None:
    plan = plan_of(name, diameter, eye, finished, tapered=tapered)
    drawing = svg_drawing(plan)
    assert root_of(drawing).tag == f"{SVG}svg"
    assert "nan" not in drawing
    assert "inf" not in re.sub(r"<text.*?</text>|<title>.*?</title>", "", drawing)


def words_of(plan: Plan) -> str:
    return "".join("".join(root_of(card_svg(plan)).itertext()).split())


@pytest.mark.parametrize("name", NAMES)
def test_the_svg_card_tells_marks_checks_steps_and_cautions(name: str) -> None:
    plan = plan_of(name)
    told = words_of(plan)
    for text in (*(check.message for check in plan.checks), *plan.steps, *plan.cautions, plan.method_title):
        assert "".join(text.split()) in told
