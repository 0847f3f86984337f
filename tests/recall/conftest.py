from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import count
from typing import Any

import pytest

from gearlog.domain.dates import PartialDate
from gearlog.domain.item import Item, RopeFacts
from gearlog.domain.plan import Plan, PlanInputs, RopeSpec, Strength
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Category, End
from gearlog.units.measure import Length

START = datetime(2024, 1, 1, tzinfo=UTC)
MakeRope = Callable[..., Item]
MakeSplice = Callable[..., Splice]


@pytest.fixture
def a_rope() -> MakeRope:
    """Ropes of polyester, hollow, 12 mm, unless said otherwise."""

    def make(rope_id: str, *, maker: str = "", model: str = "", **facts: Any) -> Item:
        usual: dict[str, Any] = {
            "construction": "hollow-braid",
            "cover_fibre": "polyester",
            "diameter": Length.read("12 mm"),
        }
        return Item(
            id=rope_id, created_at=START, changed_at=START, tag=rope_id, category=Category.LIFELINE, name=rope_id,
            maker=maker, model=model, rope=RopeFacts(**(usual | facts)),
        )  # fmt: skip

    return make


@pytest.fixture
def a_splice() -> MakeSplice:
    """Splices made one after the other by hollow-eye in new rope, eye planned at 150 mm, unless said otherwise."""
    number = count(1)
    strength = Strength(mbs_n=None, retained_fraction=None, retained_source=None, design_factor=10,
                        design_factor_source="", wll_n=None)  # fmt: skip

    def make(rope_id: str, *, method: str = "hollow-eye", eye_m: float = 0.15, **facts: Any) -> Splice:
        serial = next(number)
        when = START + timedelta(days=serial)
        rope = RopeSpec(construction="hollow-braid", diameter_m=0.012)
        plan = Plan(method=method, method_title="", method_version=1, own=False, rope_used_m=None,
                    inputs=PlanInputs(method=method, rope=rope, eye_m=eye_m), strength=strength)  # fmt: skip
        usual: dict[str, Any] = {"id": f"s{serial}", "made_on": PartialDate.of(when.date()), "plan": plan}
        return Splice(created_at=when, changed_at=when, rope_id=rope_id, end=End.A, method=method,
                      **(usual | facts))  # fmt: skip

    return make
