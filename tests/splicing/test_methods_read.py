"""What a splicer reads of each method: steps in words with this rope's marks, finishes that can be made as told."""

from __future__ import annotations

import pytest

from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import Lay, Unit
from gearlog.services.method_fields import matters
from tests.splicing.ropes import at, codes, method
from tests.splicing.test_lengths import plan_of
from tests.splicing.test_pictures import NAMES
from tests.splicing.test_pictures import plan_of as drawn

LAID = ("laid-eye", "laid-back", "laid-short", "laid-long")
STITCHES = 6  # passes each way


def named(made: Plan) -> dict[str, float]:
    return {length.name: length.length_m for length in made.lengths}


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("name", NAMES)
def test_the_steps_name_every_mark_once_and_well(name: str, unit: Unit) -> None:
    """No mark is left out of the steps, none is told as 'mark mark a', and no place is told twice in one breath."""
    made = drawn(name, unit=unit, tapered=True)
    told = " ".join(made.steps)
    assert "mark mark" not in told
    assert "{" not in told
    for mark in made.marks:
        assert f"mark {mark.letter}" in told or f"{mark.letter} at " in told


@pytest.mark.parametrize("name", LAID)
def test_every_splice_of_laid_rope_has_a_tapered_finish(name: str) -> None:
    """The form asks for it, and the steps tell to cut half of the fibres out."""
    plain, tapered = plan_of(method(name)), plan_of(method(name), tapered=True)
    assert matters("tapered", method(name))
    assert not any("fibres" in step for step in plain.steps)
    assert sum("fibres" in step for step in tapered.steps) == 1


def test_a_tapered_back_splice_unlays_two_tucks_more() -> None:
    """Two more tucks of 2/3 of a lay of 36 mm, each half as long again in the strand."""
    plain, tapered = (named(plan_of(method("laid-back"), tapered=thin)) for thin in (False, True))
    assert tapered["unlay"] - plain["unlay"] == pytest.approx(2 * 0.024 * 1.5)


def test_the_turns_of_handbooks_on_eyes_are_not_held_against_other_splices() -> None:
    """NAVEDTRA 14251 ch. 4 and 12018 ch. 7 name 5 to 10 turns for an eye; TM 5-684 names 10 or 12 for a long splice."""
    for name in LAID:
        assert "turns" not in codes(plan_of(method(name), diameter_m=0.014))
    assert "turns" in codes(plan_of(method("laid-eye"), lay_length_m=0.05, fibre="manila"))


def test_the_passes_of_a_lock_stitch_end_where_its_last_mark_lies() -> None:
    """Six passes 6 mm apart are five spaces: 30 mm."""
    made = plan_of(method("lock-stitch"))
    assert [count.count for count in made.counts] == [STITCHES]
    assert at(made, "2") - at(made, "1") == pytest.approx((STITCHES - 1) * named(made)["spacing"])


@pytest.mark.parametrize("size", [0.005, 0.012, 0.024])
def test_the_twine_of_a_lock_stitch_reaches_for_all_its_passes(size: float) -> None:
    """Down and back with both halves of the twine, straight through a braid that is sqrt 2 as thick, and two ends."""
    made = plan_of(method("lock-stitch"), diameter_m=size)
    worked = 4 * STITCHES * 2**0.5 * size + 4 * (STITCHES - 1) * size / 2
    assert named(made)["twine_needed"] >= worked + 2 * 8 * size


@pytest.mark.parametrize("name", [name for name in NAMES if name.startswith("hollow-")])
def test_a_hollow_braid_of_unknown_lay_is_not_taken_for_loose_without_a_word(name: str) -> None:
    """For a tight one no splice is commonly published; what nobody typed is not filled in silently."""
    assert "lay-unknown" in codes(drawn(name), "warn")
    assert "lay-unknown" not in codes(plan_of(method(name), lay=Lay.LOOSE, shortest_m=2.0, longest_m=4.0))
    assert "lay-unknown" not in codes(drawn("whip-stitched"))
