from __future__ import annotations

from collections.abc import Sequence

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlog.domain.plan import (
    Check,
    Mark,
    Plan,
    PlanInputs,
    RopeSpec,
    Span,
    Strength,
    TaperStep,
    Tucks,
)
from gearlog.domain.vocabulary import Unit
from gearlog.splicing.drawing import draw
from gearlog.splicing.method_file import load_builtin
from gearlog.splicing.pictures.lying import lying_columns
from gearlog.splicing.plan import make_plan
from gearlog.units.visible import cells

Places = Sequence[tuple[str, float, str]]
Spans = Sequence[tuple[str, str, float, float]]


def plan_of(marks: Places, spans: Spans, *, unit: Unit = Unit.METRIC, length_m: float | None = None) -> Plan:
    rope = RopeSpec(construction="hollow-braid", diameter_m=0.012, length_m=length_m)
    return Plan(
        method="m",
        method_title="a method",
        method_version=1,
        own=False,
        inputs=PlanInputs(method="m", rope=rope, eye_m=0.1, unit=unit),
        rope_used_m=None,
        marks=tuple(
            Mark(id=letter, letter=letter, part=part, name=f"name of {letter}", at_m=at_m, do="", formula="",
                 worked="", source="")
            for letter, at_m, part in marks
        ),
        spans=tuple(Span(kind=kind, part=part, from_m=start, to_m=end) for kind, part, start, end in spans),
        strength=Strength(mbs_n=None, retained_fraction=None, retained_source=None, design_factor=10,
                          design_factor_source="", wll_n=None),
    )  # fmt: skip


def buried(tail: float, loop: float, taper: float, *, cover: bool, unit: Unit = Unit.METRIC) -> Plan:
    part = "cover" if cover else "rope"
    end = 2 * tail + loop
    marks = [("a", taper, part), ("b", tail, part), ("c", tail + loop, "rope"), ("d", end, "rope")]
    spans = [
        ("tail", part, 0.0, tail),
        ("taper", part, 0.0, taper),
        ("eye", part, tail, tail + loop),
        ("bury", "rope", tail + loop, end),
    ]
    core = [("core-taper", "core", end - taper, end)] if cover else []
    return plan_of(marks, spans + core, unit=unit)


def laid(unlay: float, loop: float, tuck: float, count: int) -> Plan:
    end = unlay + loop + count * tuck
    plan = plan_of(
        [("a", unlay, "rope"), ("b", unlay + loop, "rope"), ("c", end, "rope")],
        [
            ("unlay", "strand", 0.0, unlay),
            ("eye", "rope", unlay, unlay + loop),
            ("tucks", "rope", unlay + loop, end),
        ],
    )
    tucks = Tucks(count=count, unlay_m=unlay, tail_m=0.1, tuck_m=tuck, source="", tail_source="", unlay_source="")
    return msgspec.structs.replace(plan, tucks=tucks)


LYING_BY_HAND = """\
As it lies, working end at the left, lengths from there:
               a         b         c                   d
rope ....---===##########oooooooooo########################>
     |--- tail 200 mm ---|- loop --|--- bury 200 mm ---|
     |- taper -|
     |---------|---------|---------|---------|---------|----
     0 mm      100       200       300       400       500
"""


def test_the_rope_as_it_lies_is_the_picture_drawn_by_hand() -> None:
    """Tail 200 mm, loop 100 mm on 60 columns: 5 for the name, 50 for 500 mm, so that one column is 10 mm.

    The taper thins in a straight line over 10 columns, shares 0.0 to 0.9: up to 0.3 a third or less, up to
    0.6 about half, up to 0.9 thinner.
    """
    shown = draw(buried(0.2, 0.1, 0.1, cover=False), 60)
    assert "\n".join(shown[:8]) == LYING_BY_HAND


def test_the_two_tapers_of_a_cover_loaded_eye_add_up_to_a_whole_section() -> None:
    """Tail 360 mm, eye 120 mm inside on 60 columns: 48 columns for 480 mm, the throat on column 12."""
    shown = draw(buried(0.36, 0.24, 0.18, cover=True), 60)
    start = next(number for number, line in enumerate(shown) if line.startswith("Finished"))
    above, _, _, tail, core, _, _, below = shown[start + 1 : start + 9]
    assert (above.index("c"), above.index("d"), below.index("b"), below.index("a")) == (12, 48, 12, 30)
    ink = {"#": 1.0, "=": 0.75, "-": 0.45, ".": 0.15, " ": 0.0}
    both = [ink[tail[column]] + ink[core[column]] for column in range(12, 52)]
    assert all(0.7 <= section <= 1.3 for section in both)
    assert tail[12:30] == "#" * 18
    assert core[12:30].strip() == ""
    assert core[48:52] == "####"


def letters_over(shown: Sequence[str], title: str) -> dict[str, int]:
    """Where each letter stands in the rows between a picture's title and its first line of rope or eye."""
    start = next(number for number, line in enumerate(shown) if line.startswith(title)) + 1
    found: dict[str, int] = {}
    for line in shown[start:]:
        if any(sign not in "abcdefghijkl| " for sign in line):
            return found
        found |= {sign: column for column, sign in enumerate(line) if sign.isalpha()}
    return found


lengths = st.floats(0.02, 8.0)
widths = st.integers(60, 200)
plans = st.one_of(
    st.builds(
        lambda tail, loop, share, cover, unit: buried(tail, loop, tail * share, cover=cover, unit=unit),
        lengths, lengths, st.floats(0.1, 1), st.booleans(), st.sampled_from(Unit),
    ),
    st.builds(laid, lengths, lengths, st.floats(0.002, 0.3), st.integers(3, 7)),
)  # fmt: skip


@settings(max_examples=80, deadline=None)
@given(plan=plans, width=widths)
def test_every_letter_stands_within_half_a_column_of_its_place_and_is_explained(plan: Plan, width: int) -> None:
    """Uncut, one column is the last mark over the columns that are left; cut, the marks are told by the axis."""
    shown = draw(plan, width)
    assert all(len(line) <= width and line.isascii() and line.isprintable() for line in shown)
    found = letters_over(shown, "As it lies")
    left = 6 if plan.spans[0].part == "cover" else 5
    column_m = max(mark.at_m for mark in plan.marks) / (width - 1 - left - 4)
    axis = lying_columns(plan, width).axis
    for mark in plan.marks:
        place = axis.place(mark.at_m) if len(axis.pieces) > 1 else left + mark.at_m / column_m
        assert abs(place - found[mark.letter]) <= 0.5 + 1e-6
        assert any(line.startswith(f"{mark.letter}  ") and mark.name in line for line in shown)
    assert any("cut through, all of it" in line for line in shown) == (len(axis.pieces) > 1)


@settings(max_examples=60, deadline=None)
@given(plan=plans, width=widths)
def test_letters_of_the_finished_splice_stand_at_their_distance_from_the_throat(plan: Plan, width: int) -> None:
    eye = next(span for span in plan.spans if span.kind == "eye")
    inside = (eye.to_m - eye.from_m) / 2
    last = plan.marks[-1].at_m - eye.to_m
    reach = max(last, last + 0.1 if plan.tucks else eye.from_m)
    columns = width - 1 - 7 - 4
    column_m = max((inside + reach) / columns, reach / (columns - 6))
    if max(round(inside / column_m), 6) > 0.6 * columns:  # the eye is cut through, and the splice keeps its room
        column_m = reach / (columns - round(0.6 * columns))
    found = letters_over(draw(plan, width), "Finished")
    throat = found["b" if plan.tucks else "c"]
    for letter, column in found.items():
        at_m = next(mark.at_m for mark in plan.marks if mark.letter == letter)
        assert abs((at_m - eye.to_m) / column_m - (column - throat)) <= 0.5 + 1e-6


@settings(max_examples=60, deadline=None)
@given(places=st.lists(st.floats(0, 2), min_size=1, max_size=12), width=widths)
def test_letters_that_fall_together_are_staggered_and_none_is_lost(places: list[float], width: int) -> None:
    marks = [("abcdefghijkl"[number], at_m, "rope") for number, at_m in enumerate(places)]
    shown = draw(plan_of(marks, []), width)
    assert set(letters_over(shown, "As it lies")) == {letter for letter, _, _ in marks}


def test_an_eye_longer_than_the_page_is_cut_through_and_that_is_said() -> None:
    shown = draw(buried(0.5, 6.0, 0.25, cover=False), 78)
    assert sum(line.startswith((" .", " '")) and "/ /" in line for line in shown) == 2
    assert "At / / the eye is longer than drawn." in shown


def test_a_taper_is_drawn_by_the_cuts_of_the_plan_when_it_has_them() -> None:
    """16 strands, three pairs leave at 75, 50 and 25 mm: 0.875 and 0.75 thinner, 0.25 at the end."""
    plan = buried(0.2, 0.1, 0.1, cover=False)
    cuts = [(0.08, 14, 0.875), (0.05, 8, 0.5), (0.02, 4, 0.25)]
    steps = tuple(TaperStep(part="rope", at_m=at, strands_left=n, fraction_left=left) for at, n, left in cuts)
    rope = draw(msgspec.structs.replace(plan, taper=steps), 60)[2]
    assert rope[5:16] == "..---===###"


def test_the_rope_goes_on_with_an_arrow_unless_it_is_known_to_end_on_the_page() -> None:
    spans: Spans = [("eye", "rope", 0.2, 0.3), ("standing", "rope", 0.3, 45.0)]
    marks: Places = [("a", 0.5, "rope")]
    assert draw(plan_of(marks, spans, length_m=45.0), 60)[2].endswith("####>")
    assert draw(plan_of(marks, spans, length_m=0.52), 60)[2].endswith("##]")


def test_a_stop_is_told_in_place_of_a_picture_and_folded_to_the_width() -> None:
    reason = "no commonly published eye splice for kernmantle rope; have it sewn, or tie a knot " + "\x1b[2J[red]"
    check = Check(level="stop", code="construction", message=reason, source="common practice")
    shown = draw(msgspec.structs.replace(plan_of([], []), checks=(check,)), 60)
    assert shown[0] == "Nothing is drawn, because the plan stops:"
    assert " ".join(" ".join(shown[1:]).split()) == "STOP: " + reason.replace("\x1b", "\\x1b")
    assert all(len(line) <= 60 for line in shown)


def test_a_plan_that_stops_with_its_marks_worked_out_is_drawn_under_the_stop() -> None:
    check = Check(level="stop", code="too-short", message="The rope is too short.", source="")
    shown = draw(msgspec.structs.replace(buried(0.2, 0.1, 0.1, cover=False), checks=(check,)), 60)
    assert shown[0] == "STOP: The rope is too short."
    assert "\n".join(shown[1:9]) == LYING_BY_HAND


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize(
    ("method", "construction", "strands", "names"),
    [
        ("hollow-eye", "hollow-braid", 12, "abcd"),
        ("cover-eye", "cover-loaded", 16, "abcde"),
        ("laid-eye", "three-strand", 3, "abc"),
    ],
)
def test_every_built_in_method_is_drawn_with_its_eye_closed_and_all_its_marks(
    method: str, construction: str, strands: int, names: str, unit: Unit
) -> None:
    rope = RopeSpec(construction=construction, strands=strands, diameter_m=0.012, fibre="polyester")
    built_in = next(each for each in load_builtin() if each.id == method)
    shown = draw(make_plan(built_in, PlanInputs(method=method, rope=rope, eye_m=0.15, unit=unit)), 80)
    assert "".join(sorted(letters_over(shown, "As it lies"))) == names
    assert any(line.startswith(" .---") for line in shown)
    assert any(line.startswith(" '---") for line in shown)
    assert max(map(len, shown)) <= 80


def test_a_method_with_odd_names_is_drawn_with_them_made_safe_and_folded_by_cells() -> None:
    name = "\u202e[/] 縄の端 " * 9
    mark = msgspec.structs.replace(plan_of([("a", 0.1, "rope")], []).marks[0], name=name, part="縄")
    shown = draw(msgspec.structs.replace(plan_of([], []), marks=(mark,)), 60)
    assert all(cells(line) <= 60 for line in shown)
    assert sum(line.count("\\u202e[/]") for line in shown) == 9


@pytest.mark.parametrize("at_m", [0.0, 1e-9, 5000.0])
def test_odd_but_valid_places_are_drawn(at_m: float) -> None:
    shown = draw(plan_of([("a", at_m, "rope")], [("eye", "rope", at_m, at_m)]), 60)
    assert letters_over(shown, "As it lies").keys() == {"a"}
