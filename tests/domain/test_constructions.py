from __future__ import annotations

import pytest

from gearlog.domain.constructions import all_constructions, construction
from gearlog.domain.vocabulary import Lay
from gearlog.errors import NotFoundError


def test_the_catalogue_holds_the_six_constructions_with_all_their_words() -> None:
    ids = [one.id for one in all_constructions()]
    assert ids == ["three-strand", "hollow-braid", "cover-loaded", "double-braid", "core-loaded", "kernmantle"]
    for one in all_constructions():
        words = (one.title, one.load_bearing, one.load_words, one.splicing_words, one.damage_words)
        assert all(text == text.strip() != "" for text in words)
        assert bool(one.instead) is not one.eye_spliced
        assert set(one.sources) >= {"load_words", "splicing_words", "damage_words", "strand_counts"}
        assert all(hasattr(one, name) for name in one.sources)


@pytest.mark.parametrize(
    ("id", "carries", "loose", "tight", "core"),
    [
        ("three-strand", "all strands", True, True, False),
        ("hollow-braid", "all strands", True, False, False),
        ("cover-loaded", "cover", True, True, True),
        ("double-braid", "cover and core together", True, True, True),
        ("core-loaded", "core", True, True, True),
        ("kernmantle", "core", False, False, True),
    ],
)
def test_what_carries_the_load_and_where_an_eye_is_spliced(
    id: str,  # noqa: A002 (the catalogue's own word)
    carries: str,
    loose: bool,
    tight: bool,
    core: bool,
) -> None:
    one = construction(id)
    assert (one.load_bearing, one.splices(), one.splices(Lay.TIGHT), one.has_core) == (carries, loose, tight, core)
    for lay in (None, Lay.LOOSE, Lay.TIGHT):
        assert ("sewn" in one.instead_of_splice(lay)) is not one.splices(lay)


def test_strand_counts_can_be_braided() -> None:
    for one in all_constructions():
        assert one.default_strands in one.strand_counts
        assert all(one.takes_strands(count) for count in one.strand_counts)
    assert not construction("cover-loaded").takes_strands(17)
    assert not construction("three-strand").takes_strands(4)


def test_an_unknown_construction_is_told_with_those_that_are_known() -> None:
    with pytest.raises(NotFoundError, match=r"'\\x1bknitted' is not a construction; .*three-strand"):
        construction("\x1bknitted")
