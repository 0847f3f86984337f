from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.identity import TAG_LENGTH, ids_from, new_id, tag_fault, tag_from


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
