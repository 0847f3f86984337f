"""The account of a length, worked out by hand."""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction

import pytest

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.history import History
from gearlog.domain.item import Item, RopeFacts
from gearlog.domain.vocabulary import Category, EventKind
from gearlog.units.measure import Length
from gearlog.upkeep.account import account_of

SAVED = datetime(2025, 6, 1, tzinfo=UTC)


def rope(length: str | None) -> Item:
    facts = RopeFacts(construction="kernmantle", length_bought=Length.read(length) if length else None)
    return Item(id="r", created_at=SAVED, changed_at=SAVED, tag="r", category=Category.LIFELINE, name="r", rope=facts)


def cut(number: int, length: str | None, what: str, *, piece: str = "", struck: str = "") -> Event:
    return Event(
        id=str(number), created_at=SAVED, changed_at=SAVED, item_id="r", kind=EventKind.CUT, cut_end="A", cut_as=what,
        happened_on=PartialDate.read("2025-05-01"), length=Length.read(length) if length else None, piece_id=piece,
        struck_because=struck,
    )  # fmt: skip


CUTS = (
    cut(1, "5 ft", "piece", piece="p"),
    cut(2, "1-1/2 in", "trim"),
    cut(3, "2 m", "end"),
    cut(4, "9 m", "", struck="x"),
)
PIECE_M, OFF_M = Fraction("1.524"), Fraction("2.0381")  # 5 ft; 1.5 in and 2 m


@pytest.mark.parametrize(
    ("bought", "cuts", "pieces", "balances", "told"),
    [
        ("150 ft", CUTS, {"p": PIECE_M}, True, ""),
        ("150 ft", CUTS, {"p": Fraction(2)}, False, "another length"),
        ("1 m", CUTS, {"p": PIECE_M}, False, "more was cut off"),
        (None, CUTS, {"p": PIECE_M}, False, "as bought"),
        ("150 ft", (*CUTS, cut(5, None, "end")), {"p": PIECE_M}, False, "has no length"),
        ("150 ft", (), {}, True, ""),
    ],
)
def test_a_length_is_accounted_for_to_the_last_part_of_an_inch(
    bought: str | None, cuts: tuple[Event, ...], pieces: dict[str, Fraction], told: str, *, balances: bool
) -> None:
    account = account_of(History(rope(bought), cuts), {}, pieces)
    assert account is not None
    assert account.balances is balances
    assert [told in fault for fault in account.faults] == ([True] if told else [])
    if balances:
        assert account.now == Fraction("45.72") - sum((account.pieces or 0, account.offcuts or 0), Fraction(0))
        assert (account.pieces, account.offcuts) == ((PIECE_M, OFF_M) if cuts else (0, 0))
