"""The pictures of every method: all marks shown, nothing beyond the page, shapes as a splicer would draw them."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlog.domain.picture.parts import is_milked
from gearlog.domain.plan import FillPoint, Plan, PlanInputs, RopeSpec, Tool
from gearlog.domain.vocabulary import Unit
from gearlog.splicing.drawing import draw, fill_profile
from gearlog.splicing.method import Method
from gearlog.splicing.method_file import load_builtin
from gearlog.splicing.pictures.filling import fill_at
from gearlog.splicing.pictures.lying import lying_columns
from gearlog.splicing.plan import make_plan

METHODS = load_builtin()
NAMES = [method.id for method in METHODS]
WIDTHS = (60, 61, 78, 80, 133, 200)


def plan_of(name: str, diameter_m: float = 0.012, eye_m: float = 0.15, finished_m: float = 6.0, **more: object) -> Plan:
    """A plan of a built-in method on the first rope it fits, with everything given that any method asks for."""
    method: Method = next(one for one in METHODS if one.id == name)
    rope = RopeSpec(construction=method.constructions[0], diameter_m=diameter_m, fibre="polyester")
    inputs = PlanInputs(
        method=name, rope=rope, eye_m=eye_m, finished_m=finished_m, shortest_m=0.6 * finished_m,
        longest_m=finished_m, tools=(Tool(name="fid", length_m=0.3),), **more,  # type: ignore[arg-type] # by name
    )  # fmt: skip
    return make_plan(method, inputs)


def rows_after(shown: Sequence[str], title: str) -> list[str]:
    """The rows of the picture with this title."""
    start = next(number for number, line in enumerate(shown) if line.startswith(title))
    stop = next((number for number, line in enumerate(shown) if number > start and not line), len(shown))
    return list(shown[start:stop])


def letters_in(rows: Sequence[str], letters: str) -> dict[str, int]:
    """Where the letters stand in rows that hold nothing but letters and leaders."""
    only = [row for row in rows if row.strip() and set(row) <= set(letters + "| ") and set(row) & set(letters)]
    return {sign: column for row in only for column, sign in enumerate(row) if sign in letters}


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("name", NAMES)
def test_every_mark_of_every_method_is_lettered_at_its_place_and_explained(name: str, unit: Unit) -> None:
    plan = plan_of(name, unit=unit)
    letters = "".join(mark.letter for mark in plan.marks)
    for width in WIDTHS:
        shown = draw(plan, width)
        assert all(len(line) <= width and line.isascii() and line.isprintable() for line in shown)
        found = letters_in(rows_after(shown, "As "), letters)
        axis = lying_columns(plan, width).axis
        for mark in plan.marks:
            assert abs(axis.place(mark.at_m) - found[mark.letter]) <= 0.5 + 1e-6
            assert any(line.startswith(f"{mark.letter} ") for line in shown)
        left_out = sum("cut through, all of it" in line for line in shown)
        assert left_out == (len(axis.pieces) > 1)


@settings(max_examples=100)
@given(
    name=st.sampled_from(NAMES),
    diameter=st.floats(0.003, 0.08),
    eye=st.floats(0.01, 5),
    finished=st.floats(0.05, 300),
    width=st.integers(60, 200),
    tapered=st.booleans(),
)
def test_no_rope_eye_or_width_breaks_a_picture(
    name: str, diameter: float, eye: float, finished: float, width: int, tapered: bool
) -> None:
    plan = plan_of(name, diameter, eye, finished, tapered=tapered)
    shown = (*draw(plan, width), *fill_profile(plan, width))
    assert all(len(line) <= width and line.isascii() and line.isprintable() for line in shown)
    assert all(any(check.message[:20] in line for line in shown) for check in plan.checks if check.level == "stop")


def test_two_ropes_are_drawn_from_where_they_meet_each_the_mirror_of_the_other() -> None:
    """Bury 504 mm; on 61 columns the middle is column 30, and 26 columns hold the 504 mm.

    The tail is whole up to its first cut, 294 mm from there: 15.2 columns; a column is drawn by its middle.
    """
    rows = rows_after(draw(plan_of("hollow-end-to-end"), 61), "Joined")
    number = next(number for number, row in enumerate(rows) if "first rope" in row)
    above, named, first, second, edge, below = rows[number - 1 : number + 5]
    assert (above.index("c"), above.index("b"), above.index("a")) == (4, 30, 43)
    assert (below.index("a"), below.index("b"), below.index("c")) == (17, 30, 56)
    assert edge == "<" + "-" * 29 + "|" + "-" * 29 + ">"
    assert named[30] == "|"
    assert first[0] == "<"
    assert second[-1] == ">"
    assert first[1:57] == second[4:60][::-1]
    assert (first[1:46], first[46:].strip("=-.")) == ("#" * 45, "")


def test_a_loop_is_a_ring_with_both_tails_across_the_place_where_the_ends_meet() -> None:
    """4 m round: on 81 columns a run of 2 m fills 3 to 77; the first tail ends right, the second left of the middle."""
    rows = rows_after(draw(plan_of("hollow-loop", finished_m=4.0), 81), "Finished, 4000 mm")
    first, second, under = (row for row in rows if "#" in row)
    assert (first[0], first[-1], second[0], second[-1]) == ("/", "\\", "|", "|")
    assert first[3:77].rstrip(" ")[::-1].lstrip() == second[4:78].lstrip()
    assert under.strip("\\/ ") == "#" * 75


@pytest.mark.parametrize("metres", [30.0, 100.0])
def test_a_long_loop_is_cut_through_so_that_its_join_stays_to_be_seen(metres: float) -> None:
    shown = draw(plan_of("hollow-loop", finished_m=metres), 80)
    ring = [row for row in rows_after(shown, "Finished") if "#" in row]
    assert all(row.count("/ /") == 2 for row in ring)
    assert "=" in ring[0]


@pytest.mark.parametrize("name", ["double-eye", "double-end-to-end"])
def test_what_the_marks_cannot_tell_is_not_drawn_and_that_is_said(name: str) -> None:
    plan = plan_of(name)
    shown = draw(plan, 80)
    assert is_milked(plan)
    assert any(line.startswith("The finished splice is not drawn inside") for line in shown)
    assert not any(line.startswith(("Finished", "Joined")) for line in shown)


def test_the_rope_of_an_endless_sling_runs_into_its_channel_at_one_end_and_leaves_it_at_the_other() -> None:
    shown = rows_after(draw(plan_of("hollow-endless-sling"), 70), "Finished, ")
    rope = next(row for row in shown if "####" in row)
    left, right = rope.index("#"), rope.rindex("#")
    assert rope[: left - 1].strip() == ".------->"
    assert rope[right + 2 :].strip() == "------->."
    letters = next(row for row in shown if row.split() == ["c", "d"])
    assert (letters.index("c"), letters.index("d")) == (left - 1, right + 1)
    slack = shown[shown.index(letters) - 1]
    assert (slack.index("."), slack.rindex(".")) == (left - 1, right + 1)
    assert "slack loop, the join b e in it" in slack


def test_a_sling_whose_parts_lie_over_one_another_is_not_drawn_finished() -> None:
    """Its bury stood out of the loop, and the length of its tail was cut off at the edge."""
    plan = plan_of("hollow-sling", diameter_m=0.005, eye_m=0.03, finished_m=0.3)
    assert plan.stopped
    assert not any("Finished" in row for row in draw(plan, 60))


def test_both_ends_of_a_cord_are_drawn_alike_to_one_scale() -> None:
    rope = next(row for row in draw(plan_of("double-cord"), 80) if row.startswith("cover "))
    first, second = rope.removeprefix("cover ").rstrip("]").split("/ /")
    mirrored = second.strip()[::-1]
    for shown in "-=#o":
        assert abs(first.strip().lstrip(".").split("##o")[0].count(shown) - mirrored.split("##o")[0].count(shown)) <= 1
    assert first.count("o") == mirrored.count("o")


def test_twine_is_drawn_over_the_length_it_is_wound_on_and_its_turns_are_told() -> None:
    """18 mm after 24 mm of rope: on 80 columns 70 for 42 mm, so that column 45 begins the turns."""
    shown = draw(plan_of("whip-common"), 80)
    rope = next(row for row in shown if row.startswith("rope"))
    assert (rope.index("("), rope.count("(")) == (45, 30)
    assert any("18 turns 18 mm" in row for row in shown)


def test_a_seizing_binds_two_legs_and_a_lock_stitch_one_rope_told_from_the_throat() -> None:
    seized, stitched = draw(plan_of("throat-seizing"), 80), draw(plan_of("lock-stitch"), 80)
    assert sum(row.startswith("rope<(((") for row in seized) == 2
    assert sum(row.startswith("rope<###") and "zzz" in row for row in stitched) == 1
    assert seized[0] == stitched[0] == "As it lies, throat at the left, lengths from there:"


def test_tapered_tucks_are_drawn_thinner_beyond_the_full_ones() -> None:
    shown = draw(plan_of("laid-eye", tapered=True), 100)
    rope = next(row for row in shown if row.startswith("rope"))
    after = rope[rope.rindex("x") + 1 :]
    assert after.lstrip("-.") == "####>"
    assert after.startswith("----")
    assert any("tapered tucks" in row for row in shown)


@pytest.mark.parametrize("name", NAMES)
def test_a_profile_is_as_high_as_what_lies_inside(name: str) -> None:
    """Read off the picture: at each column the number of # is the nearest count of eighths."""
    plan = plan_of(name)
    shown = fill_profile(plan, 100)
    assert bool(shown) == bool(plan.fill)
    if not plan.fill:
        return
    bars = [row for row in shown if "#" in row]
    zero, end = plan.fill[0].at_m, plan.fill[-1].at_m
    for column in range(6, 100):
        at_m = zero + (column - 6) * (end - zero) / (100 - 1 - 6 - 4)
        height = sum(row[column : column + 1] == "#" for row in bars)
        assert abs(height * 0.125 - fill_at(plan.fill, at_m)) <= 0.0625 + 1e-6
    told = " ".join(shown)
    assert all(f"{point.fraction:.0%}".replace("%", " %") in told for point in plan.fill)


def test_the_filling_between_two_places_is_a_straight_line_and_at_a_jump_the_later_one() -> None:
    fill = tuple(FillPoint(at_m=at, fraction=share) for at, share in ((1.0, 1.0), (2.0, 0.5), (2.0, 0.0)))
    assert [fill_at(fill, at) for at in (0.0, 1.0, 1.5, 1.9, 2.0, 3.0)] == pytest.approx([1, 1, 0.75, 0.55, 0, 0])
