from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from msgspec.structs import replace

import gearlog.upkeep
from gearlog.domain.constructions import all_constructions
from gearlog.domain.item import Item, RopeFacts
from gearlog.domain.lifecycle import EndView
from gearlog.domain.vocabulary import Category, End, EndState
from gearlog.upkeep.asking import Between, code_of, lines_for
from gearlog.upkeep.criteria_files import ORDER, all_files

MakeItem = Callable[..., Item]
FOLDER = Path(gearlog.upkeep.__file__).parent / "criteria"


def rope(make: MakeItem, construction: str) -> Item:
    return replace(make(), category=Category.LIFELINE, rope=RopeFacts(construction=construction))


def ends(a: EndState = EndState.BARE, b: EndState = EndState.BARE) -> dict[End, EndView]:
    return {End.A: EndView(a, None, ""), End.B: EndView(b, None, "")}


def test_every_file_is_asked_and_every_criterion_says_all_it_must() -> None:
    assert sorted(ORDER) == sorted(path.stem for path in FOLDER.glob("*.toml"))
    criteria = [one for file in all_files() for one in file.criteria]
    assert len({one.id for one in criteria}) == len(criteria)
    assert all(one.look and one.how and one.watch and one.fail and one.sources for one in criteria)
    known = {one.id for one in all_constructions()}
    assert all(set(file.constructions) <= known for file in all_files())


@pytest.mark.parametrize(
    ("construction", "asked"),
    [
        ("three-strand", "laid-cuts"),
        ("hollow-braid", "hollow-cuts"),
        ("cover-loaded", "cover-cuts"),
        ("double-braid", "double-cuts"),
        ("core-loaded", "mantle-damage"),
        ("kernmantle", "mantle-damage"),
    ],
)
def test_damage_is_judged_by_the_part_that_carries(item: MakeItem, construction: str, asked: str) -> None:
    lines = {line.key: line for line in lines_for(rope(item, construction), ends())}
    own = {"laid-cuts", "hollow-cuts", "cover-cuts", "double-cuts", "mantle-damage"}
    assert own & set(lines) == {asked}
    cut_cover_fails = "cut cover strand" in lines[asked].fail or "cut" in lines[asked].fail.split(",")[0]
    looks_at_the_core = "core" in lines[asked].watch
    assert looks_at_the_core is (construction in {"core-loaded", "kernmantle"})
    assert cut_cover_fails or looks_at_the_core


def test_each_finished_end_is_asked_for_itself(item: MakeItem) -> None:
    keys = [line.key for line in lines_for(rope(item, "double-braid"), ends(EndState.SPLICED, EndState.SEWN))]
    assert {"splice-throat@A", "splice-tail@A", "splice-whipping@A", "splice-stitch@A", "splice-bury@A"} <= set(keys)
    assert {"sewn-stitches@B"} <= set(keys)
    assert not any(key.startswith("splice") and key.endswith("@B") for key in keys)
    laid = [line.key for line in lines_for(rope(item, "three-strand"), ends(EndState.SPLICED, EndState.KNOTTED))]
    assert "splice-tucks@A" in laid
    assert "splice-bury@A" not in laid
    assert "knot-form@B" in laid
    assert not any("splice" in line.key for line in lines_for(rope(item, "kernmantle"), ends()))


def test_all_of_one_end_is_asked_before_the_other_and_each_line_names_its_end(item: MakeItem) -> None:
    lines = lines_for(rope(item, "double-braid"), ends(EndState.SPLICED, EndState.SPLICED))
    places = [line.key[-1] for line in lines if "@" in line.key]
    assert places == sorted(places)
    assert all(line.look.startswith(f"End {line.key[-1]}: ") for line in lines if "@" in line.key)
    assert len({line.look for line in lines}) == len(lines), "no two lines read alike"


@pytest.mark.parametrize(("construction", "asked"), [("three-strand", "splice-tucks"), ("double-braid", "splice-bury")])
def test_a_splice_between_the_ends_is_asked_for_too_but_for_an_eye(
    item: MakeItem, construction: str, asked: str
) -> None:
    between = Between("s1", "splice of 2024-05-31 at 12 m")
    lines = [line for line in lines_for(rope(item, construction), ends(), (between,)) if line.key.endswith("@s1")]
    names = {line.key.partition("@")[0] for line in lines}
    assert {asked, "splice-tail", "splice-whipping", "splice-stitch"} <= names
    assert not {"splice-throat", "splice-eye"} & names
    assert all(line.look.startswith("Splice of 2024-05-31 at 12 m: ") for line in lines)


def test_webbing_is_closed_by_something_and_a_rope_that_carries_outside_is_looked_at_inside(item: MakeItem) -> None:
    lanyard = replace(item(), category=Category.LANYARD)
    assert "web-fittings" in {line.key for line in lines_for(lanyard, {})}
    assert "web-fittings" not in {line.key for line in lines_for(item(), {})}, "a harness has its own"
    assert "cover-inside" in {line.key for line in lines_for(rope(item, "cover-loaded"), ends())}


@pytest.mark.parametrize("category", list(Category))
def test_every_category_has_lines_of_its_own(item: MakeItem, category: Category) -> None:
    one = replace(item(), category=category)
    if category in {Category.LIFELINE, Category.HITCH_CORD, Category.RIGGING_LINE}:
        one = replace(one, rope=RopeFacts(construction="kernmantle"))
    lines = lines_for(one, {})
    assert {line.group for line in lines} - {"The item and its record"}
    assert len({line.key for line in lines}) == len(lines)


def test_the_code_stands_for_just_these_lines(item: MakeItem) -> None:
    bare, spliced = (lines_for(rope(item, "hollow-braid"), ends(state)) for state in (EndState.BARE, EndState.SPLICED))
    assert code_of(bare) == code_of(tuple(bare))
    assert code_of(bare) != code_of(spliced) != code_of(spliced[:-1])
