from __future__ import annotations

from itertools import chain, count

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.identity import TAG_LENGTH, Tags, ids_from, new_id, tag_fault, tag_from


@given(st.text(max_size=80), st.lists(st.sampled_from(["item", "Item-2", "line", "line-2", "LINE-3"]), unique=True))
def test_a_tag_made_from_any_name_is_valid_and_unlike_all_others(name: str, taken: list[str]) -> None:
    assert tag_fault(tag_from(name, taken), taken) is None


@pytest.mark.parametrize(
    ("name", "taken", "tag"),
    [
        ("Long climbing line", [], "long-climbing-line"),
        ("Line", ["LINE", "line-2"], "line-3"),
        ("[/]", [], "item"),
        ("\U0001f333", ["item"], "item-2"),
    ],
)
def test_a_tag_is_made_from_the_name(name: str, taken: list[str], tag: str) -> None:
    assert tag_from(name, taken) == tag
    assert len(tag_from("x" * 500, taken)) <= TAG_LENGTH


def test_ids_are_never_alike_and_can_come_from_a_given_source() -> None:
    assert len({new_id() for _ in range(1000)}) == 1000
    assert all(len(new_id()) == 16 for _ in range(3))
    with ids_from(lambda size: "ab" * size):
        assert new_id() == "ab" * 8
    assert new_id() != "ab" * 8


def first_free(base: str, taken: list[str]) -> str:
    """As it would be looked for by hand: from 2 on, every time."""
    folded = {tag.casefold() for tag in taken}
    candidates = chain([base], (f"{base}-{number}" for number in count(2)))
    return next(tag for tag in candidates if tag.casefold() not in folded)


@given(
    st.lists(st.sampled_from(["line", "LINE-2", "line-3", "Line-4", "line-2-2", "other"])),
    st.lists(st.sampled_from(["line", "line-2", "other"])),
)
def test_the_first_free_tag_is_the_one_that_one_would_find_by_hand(borne: list[str], names: list[str]) -> None:
    tags, by_hand = Tags(borne), list(borne)
    for name in names:
        by_hand.append(first_free(name, by_hand))
        assert tag_from(name, tags) == by_hand[-1]
        tags.add(by_hand[-1])
        assert by_hand[-1].upper() in tags


def test_equal_names_are_numbered_without_counting_from_the_start_each_time() -> None:
    class Asked(Tags):
        times = 0

        def __contains__(self, tag: object) -> bool:
            self.times += 1
            return super().__contains__(tag)

    tags, number = Asked(), 300
    for _ in range(number):
        tags.add(tag_from("connector", tags))
    assert f"connector-{number}" in tags
    assert tags.times <= 4 * number
