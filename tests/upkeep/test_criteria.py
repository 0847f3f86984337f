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
from gearlog.upkeep.asking import code_of, lines_for
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
