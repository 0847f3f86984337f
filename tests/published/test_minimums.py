"""A strength that was typed against the least that its standard asks for."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from gearlog.domain.item import DeviceFacts, Item, RopeFacts
from gearlog.domain.vocabulary import Category
from gearlog.units.measure import Force, Length
from gearlog.upkeep.minimums import strength_notes

SAVED = datetime(2025, 6, 1, tzinfo=UTC)


def item(
    standards: str, strength: str, *, cord_mm: str = "", rope: bool = False, gate_open: str = "", across: str = ""
) -> Item:
    facts = RopeFacts(construction="kernmantle", diameter=Length.read(f"{cord_mm} mm") if cord_mm else None)
    device = DeviceFacts(
        gate_open_strength=Force.read(gate_open) if gate_open else None,
        minor_axis_strength=Force.read(across) if across else None,
    )
    return Item(
        id="a", created_at=SAVED, changed_at=SAVED, tag="a", category=Category.CONNECTOR, name="a", standards=standards,
        breaking_strength=Force.read(strength), device=device, rope=facts if cord_mm or rope else None,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("standards", "least_kn"),
    [
        ("EN 362 class B", "20"),  # EN 362:2004
        ("EN 362:2004 class Q", "25"),
        ("CE EN 362, class M", "20"),
        ("EN 12275 type K", "25"),  # EN 12275:2013
        ("EN 12275 type X", "18"),
        ("EN 566", "22"),
        ("EN 565", "10"),  # EN 565:2017
        ("EN 567", "4"),  # EN 567:2013
        ("EN 813", "15"),
        ("EN 1891 type A", "22"),  # EN 1891:1998, from memory
        ("EN 1891 type B", "18"),
        ("29 CFR 1926.502", "22.2"),  # 5,000 lbf
        ("Cal. title 8, 3422", "22.24"),  # 5,000 lbf = 22.2411 kN
    ],
)
def test_below_the_minimum_gets_a_note_and_at_it_none(standards: str, least_kn: str) -> None:
    above = f"{float(least_kn) + 0.05:.2f} kN"
    below = f"{float(least_kn) - 0.05:.2f} kN"
    assert strength_notes(item(standards, above)) == ()
    (note,) = strength_notes(item(standards, below))
    assert below in note
    assert "read the marking again" in note


def test_five_thousand_pounds_force_meet_the_american_minimum_exactly() -> None:
    assert strength_notes(item("29 CFR 1926.502(d)(3)", "5000 lbf")) == ()
    assert strength_notes(item("29 CFR 1926.502(d)(3)", "4999 lbf")) != ()


@pytest.mark.parametrize(("millimetres", "least_kn"), [("5", 5.0), ("6", 7.2), ("8", 12.8)])
def test_accessory_cord_by_diameter_squared_over_five(millimetres: str, least_kn: float) -> None:
    """EN 564."""
    assert strength_notes(item("EN 564", f"{least_kn} kN", cord_mm=millimetres)) == ()
    assert strength_notes(item("EN 564", f"{least_kn - 0.1:.1f} kN", cord_mm=millimetres)) != ()


def test_gate_open_and_across_have_minima_of_their_own() -> None:
    """EN 12275:2013, type B: 20 / 7 / 7 kN."""
    good = item("EN 12275 type B", "20 kN", gate_open="7 kN", across="7 kN")
    poor = item("EN 12275 type B", "20 kN", gate_open="6.9 kN", across="6 kN")
    assert strength_notes(good) == ()
    assert [note.split(" is below")[0] for note in strength_notes(poor)] == [
        "strength with the gate open 6.9 kN", "strength across 6 kN",
    ]  # fmt: skip


def test_a_lanyard_of_textile_needs_more_than_one_of_metal() -> None:
    """EN 354:2010: 22 kN of textile, 15 kN of metal."""
    assert strength_notes(item("EN 354", "16 kN")) == ()
    assert len(strength_notes(item("EN 354", "16 kN", rope=True))) == 1


@pytest.mark.parametrize(
    ("standards", "least_kn"),
    [
        ("EN362/B", "20"),  # as it is printed on connectors
        ("EN 362:2004/B", "20"),
        ("CE 0000 EN 362:2004 Q", "25"),
        ("EN 12275-K", "25"),
        ("EN 12275:2013 (type X)", "18"),
        ("EN 1891 A", "22"),
        ("EN 1891:1998 B", "18"),
        ("EN 1891, A", "22"),
        ("EN566, EN354", "22"),
    ],
)
def test_a_class_is_understood_as_it_is_printed(standards: str, least_kn: str) -> None:
    above, below = (f"{float(least_kn) + step:.2f} kN" for step in (0.05, -0.05))
    assert strength_notes(item(standards, above, rope=True)) == ()
    assert strength_notes(item(standards, below, rope=True)) != ()


def test_a_letter_elsewhere_is_no_class() -> None:
    assert strength_notes(item("EN 1891, Maker A", "1 kN")) == ()
    assert strength_notes(item("EN 362, EN 12277 B", "1 kN")) == ()


def test_another_standard_with_the_same_digits_is_not_meant() -> None:
    assert strength_notes(item("EN 3621 class B", "1 kN")) == ()
    assert strength_notes(item("EN 362 class BX", "1 kN")) == ()
    assert strength_notes(item("", "1 kN")) == ()
