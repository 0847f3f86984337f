"""Two ropes side by side: from the log and in words; unknown stays unknown and says why."""

from __future__ import annotations

import pytest

from gearlog.domain.item import Item
from gearlog.domain.plan import Plan
from gearlog.errors import GearlogError, NotFoundError, ReadingError
from gearlog.reports.plain_compared import compared_lines, difference_lines
from gearlog.services.book import Book
from gearlog.services.typed_ropes import read_rope_words
from tests.making import made_form

SAID = "cover-loaded, 12.7 mm, polyester, core polyamide, 16 strands, 26.7 kN, 118 g/m, 2.8 % at 2.2 kN"


def test_a_rope_in_words_says_all_that_a_record_holds() -> None:
    rope, strength = read_rope_words(SAID)
    assert (rope.construction, rope.strands, rope.cover_fibre, rope.core_fibre) == (
        "cover-loaded", 16, "polyester", "polyamide"
    )  # fmt: skip
    assert (str(rope.diameter), str(rope.mass_per_length), str(strength)) == ("12.7 mm", "118 g/m", "26.7 kN")
    assert (rope.elongation_percent, str(rope.elongation_at)) == (2.8, "2.2 kN")
    nylon, _ = read_rope_words("Hollow Braid, tight, Nylon, 1/2 in")
    assert (nylon.construction, nylon.lay, nylon.cover_fibre) == ("hollow-braid", "tight", "polyamide")


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("12 mm, polyester", "does not say the construction"),
        ("three-strand, 12 bananas", "says nothing of a rope"),
        ("three-strand, 12 mm, 13 mm", "said twice"),
        ("three-strand, 200 strands", "cannot be"),
        ("three-strand, 12", "says nothing"),
        ("nobody", "no rope bears the tag"),
        ("", "no rope bears the tag"),
        ("helmet", "is no rope"),
    ],
)
def test_what_says_no_rope_is_told_with_an_example(book: Book, said: str, told: str) -> None:
    book.gear.add({"name": "helmet", "category": "helmet"})
    with pytest.raises((NotFoundError, ReadingError), match=told) as refused:
        book.planner.compare(said, "three-strand")
    assert isinstance(refused.value, GearlogError)
    assert "cover-loaded, 12.7 mm" in refused.value.message


def test_the_job_is_answered_from_the_facts_of_both(book: Book, rope: Item) -> None:
    """12 mm hollow braid of polyester: 0.7 x 1380 to 1390 x 113.1 mm2, 109.3 to 110 g/m; 118 g/m is 7.08 kg at 60 m."""
    both = book.planner.compare(rope.tag.upper(), SAID)
    assert (both.first.tag, both.first.name, both.second.tag) == (rope.tag, rope.name, "")
    assert [one.mass_kg for one in both.second.carried] == pytest.approx([7.08, 10.62])
    assert both.first.mass.estimated
    assert [one.mass_kg for one in both.first.carried] == pytest.approx([6.58, 9.87], abs=0.005)
    assert (both.first.load_bearing, both.second.load_bearing) == ("all strands", "cover")
    assert "hollow-eye" in {one.method for one in both.first.splices}
    assert "cover-eye" in {one.method for one in both.second.splices}
    told = "\n".join(difference_lines(both))
    assert "carried mass at 60 m: the first is lighter by 0.50 kg" in told
    assert "diameter: the first is thinner by 0.7 mm" in told
    assert "breaking strength: the first is weaker by 2.7 kN" in told
    assert "elongation: unknown, for want of a figure for the first" in told


def test_where_no_eye_is_spliced_it_is_said_what_is_done_instead(book: Book) -> None:
    both = book.planner.compare("kernmantle, 11 mm", "hollow-braid, tight")
    assert "sewn" in both.first.instead
    assert "sewn" in both.second.instead
    assert both.first.mass.why.startswith("its fibre is not known")
    assert both.second.mass.why.startswith("its diameter is not known")
    told = "\n".join(difference_lines(both))
    assert "carried mass at 90 m: unknown, for want of a figure for both" in told


def test_elongations_at_different_loads_are_not_compared(book: Book) -> None:
    both = book.planner.compare("kernmantle, 3 % at 1.5 kN", "kernmantle, 2 % at 2.2 kN")
    assert any("stated at different loads" in line for line in difference_lines(both))
    alike = book.planner.compare("kernmantle, 3 % at 2.2 kN", "kernmantle, 2 % at 2.2 kN")
    assert any("stretching more by 1 %" in line for line in difference_lines(alike))
    assert any("elongation: none" in line for line in difference_lines(book.planner.compare(SAID, SAID)))


def test_the_last_results_in_the_diary_stand_beside_each(book: Book, rope: Item, plan: Plan) -> None:
    book.diary.record(made_form(book, plan) | {"minutes": "48"}, plan)
    both = book.planner.compare(rope.tag, "three-strand, 12 mm, polyester")
    assert (both.first.made, both.first.good, both.second.made) == (1, 1, 0)
    (last,) = both.first.last
    assert (last.rope, last.outcome, last.minutes) == (rope.tag, "good", 48)
    assert last.why == ("the same rope",)
    lines = compared_lines(both)
    assert "Second, in the diary: nothing like it was spliced yet" in lines
    assert any(line.startswith("First, last: ") and "48 minutes" in line for line in lines)


def test_an_estimate_is_never_shown_without_saying_so(book: Book) -> None:
    both = book.planner.compare("hollow-braid, 12 mm, hmpe", SAID)
    (first, second) = [line for line in compared_lines(both) if "carried mass: " in line]
    assert "estimated" in first
    assert "from memory" in first
    assert "as stated in the record" in second
    imperial = [line for line in compared_lines(both, imperial=True) if "carried mass: " in line]
    assert all(" lb at 196.9 ft" in line for line in imperial)
