"""No plan with a stop yields a card without the stop on it, in any format; and none gives a number to cut by."""

from __future__ import annotations

import io
from typing import Any
from xml.etree import ElementTree as ET

import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlog.domain.constructions import all_constructions
from gearlog.domain.plan import Plan, PlanInputs, RopeSpec, Tool
from gearlog.domain.vocabulary import Lay
from gearlog.reports.card import card_html, card_pdf, card_svg, svg_drawing
from gearlog.splicing.plan import make_plan
from tests.reports.card.plans import METHODS, plan_of
from tests.reports.card.test_html import read

TO_CUT_BY = ("Marks, from", "Taper, from", "Pulls", "Steps", "Drawing", "As it lies", "length to cut", "full tucks")

some = st.floats(0.0001, 20.0)
maybe = st.one_of(st.none(), some)
ropes = st.builds(
    RopeSpec,
    construction=st.sampled_from([one.id for one in all_constructions()]),
    diameter_m=st.floats(0.002, 0.1),
    strands=st.one_of(st.none(), st.integers(1, 48)),
    lay=st.one_of(st.none(), st.sampled_from(Lay)),
    fibre=st.sampled_from(["", "polyester", "hmpe", "polyamide"]),
    length_m=maybe,
)
plans = st.builds(
    lambda method, rope, **fields: make_plan(method, PlanInputs(method=method.id, rope=rope, **fields)),
    st.sampled_from(METHODS),
    ropes,
    eye_m=maybe,
    pin_m=maybe,
    finished_m=maybe,
    shortest_m=maybe,
    longest_m=maybe,
    clear_rope_m=maybe,
    both_ends=st.booleans(),
    tools=st.lists(st.builds(Tool, name=st.just("fid"), length_m=st.floats(0.0005, 0.5)), max_size=1).map(tuple),
)


def bare(text: str) -> str:
    return "".join(text.split())


def texts_of(plan: Plan) -> dict[str, str]:
    pdf = pypdf.PdfReader(io.BytesIO(card_pdf(plan)))
    return {
        "pdf": bare("".join(page.extract_text() for page in pdf.pages)),
        "html": bare("".join(read(card_html(plan)).text)),
        "svg": bare("".join(ET.fromstring(card_svg(plan)).itertext())),  # noqa: S314 (our own output)
        "drawing": bare("".join(ET.fromstring(svg_drawing(plan)).itertext())),  # noqa: S314
    }


def judge(plan: Plan) -> None:
    for form, text in texts_of(plan).items():
        stops = [check.message for check in plan.checks if check.level == "stop"]
        assert all(bare(stop) in text for stop in stops), form
        assert ("Donotmakethissplice" in text) == plan.stopped, form
        if plan.stopped:
            assert [words for words in TO_CUT_BY if bare(words) in text] == [], form


@settings(max_examples=50)
@given(plan=plans)
def test_a_stop_stands_on_every_card_and_takes_the_numbers_away(plan: Plan) -> None:
    judge(plan)


@pytest.mark.parametrize(
    ("name", "changes"),
    [
        ("hollow-eye", {"rope": RopeSpec(construction="kernmantle", diameter_m=0.011)}),
        (
            "hollow-eye",
            {"rope": RopeSpec(construction="hollow-braid", diameter_m=0.011, length_m=0.5)},
        ),
        ("hollow-eye", {"eye_m": None}),
        ("hollow-sling", {"longest_m": 1.0}),
        ("double-cord", {"finished_m": 0.3}),
    ],
)
def test_each_kind_of_stop_is_told(name: str, changes: dict[str, Any]) -> None:
    plan = plan_of(name, **changes)
    assert plan.stopped
    judge(plan)


def test_the_stop_comes_before_everything_but_the_title() -> None:
    plan = plan_of("hollow-eye", rope=RopeSpec(construction="kernmantle", diameter_m=0.011))
    for form, text in texts_of(plan).items():
        assert text.index("STOP") < text.index("Checks"), form
        assert text.index("STOP") < text.index("Ropeandwork"), form
