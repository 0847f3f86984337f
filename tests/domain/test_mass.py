"""Carried mass: stated before estimated, estimated before unknown, and unknown with its reason."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.mass import STATED, carried_kg, line_mass


def test_what_is_stated_goes_before_any_estimate() -> None:
    mass = line_mass(0.118, 0.0127, "polyester", "polyamide", has_core=True)
    assert (mass.kg_per_m, mass.estimated, mass.source) == (0.118, False, STATED)
    assert carried_kg(90.0, mass.kg_per_m) == pytest.approx(10.62)


@pytest.mark.parametrize(
    ("diameter", "cover", "core", "has_core", "why"),
    [
        (None, "polyester", "", False, "diameter"),
        (0.012, "", "", False, "its fibre"),
        (0.012, "polyester", "", True, "fibre of its core"),
        (0.012, "polyester", "manila", True, "for manila"),
        (0.012, "hemp", "sisal", True, "for hemp and sisal"),
    ],
)
def test_what_is_missing_is_told_with_the_way_out(
    diameter: float | None, cover: str, core: str, has_core: bool, why: str
) -> None:
    mass = line_mass(None, diameter, cover, core, has_core=has_core)
    assert mass.kg_per_m is None
    assert why in mass.why
    assert "weigh a length" in mass.why
    assert carried_kg(60.0, mass.kg_per_m) is None


def test_a_core_of_another_fibre_makes_a_range_between_the_two() -> None:
    mixed = line_mass(None, 0.012, "polyester", "polyamide", has_core=True)
    cover, core = (line_mass(None, 0.012, name) for name in ("polyester", "polyamide"))
    assert (mixed.low_kg_per_m, mixed.high_kg_per_m) == (core.low_kg_per_m, cover.high_kg_per_m)
    assert mixed.low_kg_per_m is not None
    assert mixed.kg_per_m is not None
    assert mixed.high_kg_per_m is not None
    assert mixed.low_kg_per_m < mixed.kg_per_m < mixed.high_kg_per_m


def test_a_fibre_of_a_core_that_is_not_there_counts_for_nothing() -> None:
    assert line_mass(None, 0.012, "polyester", "aramid") == line_mass(None, 0.012, "polyester")


@given(st.floats(0.004, 0.05), st.floats(1.1, 4.0))
def test_twice_as_thick_is_four_times_as_heavy(diameter: float, factor: float) -> None:
    thin, thick = (line_mass(None, size, "hmpe").kg_per_m for size in (diameter, factor * diameter))
    assert thin is not None
    assert thick == pytest.approx(factor**2 * thin)
