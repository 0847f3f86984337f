from __future__ import annotations

import msgspec
import pytest

from gearlog.domain.plan import (
    ChainLink,
    Check,
    Count,
    EyeGeometry,
    FillPoint,
    Finished,
    Mark,
    NamedLength,
    Plan,
    PlanInputs,
    Pull,
    RopeSpec,
    Shortening,
    Strength,
    TaperStep,
    Tolerance,
    Tool,
    Tucks,
)
from gearlog.domain.vocabulary import Lay, Unit
from gearlog.reports.plain import plan_lines
from gearlog.reports.words import Tape

INCH = 0.0254
ROPE = RopeSpec(
    construction="hollow-braid", diameter_m=0.5 * INCH, strands=12, lay=Lay.LOOSE, fibre="polyester",
    mbs_n=24_020.0, name="long [red] line\x1b[2J",
)  # fmt: skip
INPUTS = PlanInputs(
    method="hollow-eye", rope=ROPE, eye_m=6 * INCH, pin_m=0.05, unit=Unit.IMPERIAL, end="A",
    tools=(Tool(name="wire fid", length_m=0.26),),
)  # fmt: skip
PLAN = Plan(
    method="hollow-eye", method_title="buried eye", method_version=3, own=True, inputs=INPUTS,
    rope_used_m=33 * INCH,
    lengths=(NamedLength(name="bury", title="bury", length_m=21 * INCH, formula="2 * fid", worked="2 * 10 1/2 in",
                         source="", common_practice=True),),
    marks=(
        Mark(id="1", letter="a", part="rope", name="throat on the tail", at_m=21 * INCH, do="meets mark b",
             formula="bury", worked="21 in", source="Handbook, page 3"),
        Mark(id="2", letter="b", part="rope", name="throat on the standing part", at_m=0.84, do="",
             formula="bury + loop", worked="21 in + 12 in", source="Handbook, page 3"),
    ),
    pulls=(Pull(part="rope", from_m=0.84, to_m=0.94, length_m=0.1, tool="", stage=1),),
    taper=(TaperStep(part="rope", at_m=0.2, strands_left=10, fraction_left=10 / 12),),
    tucks=Tucks(count=4, unlay_m=0.216, tail_m=0.0762, tuck_m=0.024, source="29 CFR 1910.184", tail_source="tails",
                unlay_source="turns"),
    eye=EyeGeometry(inside_length_m=6 * INCH, circumference_m=12 * INCH, pin_m=0.05, half_angle_deg=13.407,
                    leg_tension_ratio=0.51401, d_over_d=3.937),
    strength=Strength(mbs_n=24_020.0, retained_fraction=0.9, retained_source="a table", design_factor=10,
                      design_factor_source="common practice", wll_n=2161.8, condition_fraction=0.85,
                      condition_source="wet"),
    checks=(
        Check(level="note", code="n", message="One note.", source=""),
        Check(level="warn", code="w", message="One warning.", source="ISO 2307:2010 5.1"),
    ),
    steps=("Tape the end.", "Go on."), finish="whipping", cautions=("The maker comes first.",),
)  # fmt: skip

BY_HAND = r"""
Plan: buried eye
Method: hollow-eye, version 3, own, experimental
Verdict: nothing stops it; 1 warning, 1 note below
Rope: long [red] line\x1b[2J, end A
Construction: hollow-braid, 12 strands, loose
Fibre: polyester
Diameter: 1/2 in
Condition: new
Used for: people
Eye: 6 in (152.4 mm) inside, from throat to crown, pulled flat
Loop between the two throat marks: 12 in (304.8 mm)
Rope used from the working end to the throat: 33 in (838.2 mm)
Mark a: 21 in (533.4 mm) from the working end, on the rope, throat on the tail
At mark a: meets mark b
Formula of mark a: bury = 21 in
Mark b: 33 1/16 in (840 mm) from the working end, on the rope, throat on the standing part
Formula of mark b: bury + loop = 21 in + 12 in
Length bury: 21 in (533.4 mm), 2 * fid = 2 * 10 1/2 in
Taper cut 1: 7 7/8 in (200 mm) from the working end, on the rope, 10 strands left, 83.3 % of the section
Pull 1: the rope, in at 33 1/16 in (840 mm), out at 37 in (940 mm), 3 15/16 in (100 mm) long, with a tool that is not named
Tucks: 4 full tucks, source 29 CFR 1910.184
One full tuck: 15/16 in (24 mm) along the rope
Unlay: 8 1/2 in (216 mm), source turns
Tail beyond the last full tuck: 3 in (76.2 mm), source tails
Pin: 1 31/32 in
Angle between the eye's legs at the throat: 26.8 degrees
Load in each leg of the eye: 0.514 of the load on the rope
Pin diameter over rope diameter: 3.9
Breaking strength of the rope: 5,400 lbf
Kept in this condition: 85 %, source wet
Kept by the splice: 90 %, source a table
Design factor: 10, source common practice
Working load limit: 485 lbf, from the numbers above, rounded down
WARNING: One warning. Source: ISO 2307:2010 5.1
NOTE: One note.
Step 1: Tape the end.
Step 2: Go on.
Finish: whipping
Source of mark a, mark b: Handbook, page 3
Source of bury: common practice, unconfirmed
Caution: The maker comes first.
"""  # noqa: E501 (a fact takes the line it needs)


def test_a_plan_is_the_lines_written_by_hand() -> None:
    """840 mm is 33.071 in, 33 1/16; 200 mm 7.874, 7 7/8; 940 mm 37.008; 100 mm 3.937, 3 15/16; 24 mm 0.945, 15/16;
    216 mm 8.504; 50 mm 1.969 in, 1 31/32; 24,020 N 5,399.9 lbf; 2,161.8 N 485.99 lbf.
    """  # noqa: D205 (numbers, not prose)
    assert "\n".join(plan_lines(PLAN)) == BY_HAND.strip()


def test_a_metric_plan_tells_the_exact_millimetres_only_where_the_tape_rounds_them() -> None:
    inputs = msgspec.structs.replace(INPUTS, unit=Unit.METRIC)
    lines = plan_lines(msgspec.structs.replace(PLAN, inputs=inputs))
    assert "Mark a: 533 mm (533.4 mm) from the working end, on the rope, throat on the tail" in lines
    assert "Mark b: 840 mm from the working end, on the rope, throat on the standing part" in lines
    assert "Working load limit: 2.1 kN, from the numbers above, rounded down" in lines


def test_a_plan_that_stops_says_so_first_and_names_what_is_unknown() -> None:
    rope = RopeSpec(construction="kernmantle", diameter_m=0.011)
    strength = Strength(mbs_n=None, retained_fraction=None, retained_source=None, design_factor=10,
                        design_factor_source="", wll_n=None)  # fmt: skip
    stop = Check(level="stop", code="c", message="Have it sewn.", source="common practice, unconfirmed")
    plan = Plan(method="hollow-eye", method_title="buried eye", method_version=1, own=False, rope_used_m=None,
                inputs=PlanInputs(method="hollow-eye", rope=rope, eye_m=0.15), strength=strength,
                checks=(stop,))  # fmt: skip
    assert plan_lines(plan) == (
        "Plan: buried eye",
        "Method: hollow-eye, version 1",
        "Verdict: STOP, do not make this splice; 1 reason among the checks below",
        "Construction: kernmantle",
        "Fibre: unknown",
        "Diameter: 11 mm",
        "Condition: new",
        "Used for: people",
        "Eye: 150 mm inside, from throat to crown, pulled flat",
        "Breaking strength of the rope: unknown",
        "Kept by the splice: unknown",
        "Design factor: 10, source unknown",
        "Working load limit: unknown, because a number above is",
        "STOP: Have it sewn. Source: common practice, unconfirmed",
    )


@pytest.mark.parametrize(
    ("pin_m", "half_angle", "line"),
    [
        (None, None, "Pin: none named, so how the eye sits on one is unknown"),
        (0.05, None, "Eye on the pin: it does not go over it"),
    ],
)
def test_a_pin_that_is_unknown_or_too_thick_is_said(pin_m: float | None, half_angle: float | None, line: str) -> None:
    eye = EyeGeometry(inside_length_m=0.1, circumference_m=0.2, pin_m=pin_m, half_angle_deg=half_angle)
    assert line in plan_lines(msgspec.structs.replace(PLAN, eye=eye))


def test_lengths_fill_counts_and_the_chain_are_told_one_fact_a_line() -> None:
    """9 m = 29.53 ft; the figures are the records' own, so that only their words are under test."""
    inputs = msgspec.structs.replace(INPUTS, unit=Unit.METRIC, shortest_m=2.5)
    link = ChainLink(name="bowline", retained_fraction=0.63, strength_n=15_132.6, design_factor=10, source="a table",
                     wll_n=1513.26)  # fmt: skip
    ring = ChainLink(name="old ring", retained_fraction=None, strength_n=None, design_factor=5, source="no source")
    plan = msgspec.structs.replace(
        PLAN,
        inputs=inputs,
        shape="sling",
        origin="free end",
        tools=("fid: to draw the tail through",),
        finished=Finished(what="crown to crown", finished_m=4.0, cut_m=9.0004, formula="finished + bury",
                          worked="4000 mm + 534 mm", source="a sheet", wanted=True, tape_cut_m=9.001),
        shortening=Shortening(length_m=0.0215, ratio=0.93137, braid_angle_deg=20, swelling=1.41421, source="geometry"),
        fill=(FillPoint(at_m=0.84, fraction=1.0), FillPoint(at_m=1.2, fraction=0.25)),
        counts=(Count(name="turns", title="turns of the whipping", count=18, formula="whipping / twine", source=""),),
        strength=msgspec.structs.replace(PLAN.strength, chain=(link, ring), weakest="bowline"),
        mark_tolerance=Tolerance(within_m=0.006, if_short="Mark anew.", if_long="Move on.", source="own"),
    )  # fmt: skip
    lines = plan_lines(plan)
    for line in (
        "Tool needed: fid: to draw the tail through",
        "Shortest setting, crown to crown: 2500 mm",
        "Finished length: 4000 mm, crown to crown, as asked",
        "Length to cut: 9001 mm (9000.4 mm)",
        "Formula of the cut length: finished + bury = 4000 mm + 534 mm",
        "Shortening over all buries: 22 mm (21.5 mm)",
        "Filled at 1200 mm from the free end: 25 % of what the braid holds",
        "Turns of the whipping: 18, whipping / twine, source unknown",
        "Part, bowline: holds 15.1 kN, 63 % of the rope's strength, may carry 1.5 kN over a design factor of 10, "
        "source a table",
        "Part, old ring: what it holds is unknown, no source",
        "Weakest part: bowline",
        "A mark may be off by 6 mm, source own",
        "A mark that is shorter: Mark anew.",
    ):
        assert line in lines, line
    assert any("0.9314 of the length is left, at a braid angle of 20 degrees" in line for line in lines)
    assert any(line.startswith("Mark a: 533 mm (533.4 mm) from the free end") for line in lines)


@pytest.mark.parametrize(("pounds", "told"), [(5000, "500 lbf"), (4999.9, "499 lbf"), (5009.9, "500 lbf")])
def test_a_limit_is_rounded_down_and_a_whole_one_stays_whole(pounds: float, told: str) -> None:
    """5,000 lbf over 10 are 500 lbf, though a float of it lies a last bit below."""
    assert Tape(imperial=True).capacity(pounds * 4.4482216152605 / 10) == told
