"""Carried mass against published figures and worked ones (trade.md B.3)."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from gearlog.domain.mass import PACKING, carried_kg, line_mass
from gearlog.units.measure import LinearMass


def test_a_rope_of_polyester_is_seven_tenths_of_a_solid_rod() -> None:
    """Solid rod d = 10 mm at 1.38 g/cm3: 108.4 g/m (computed); a real rope about 0.7 of that, from memory.

    Density 1.38 to 1.39: Physical Properties of Textile Fibres, Tables 5.1, 5.2.
    """
    mass = line_mass(None, 0.010, "polyester")
    assert mass.low_kg_per_m == pytest.approx(0.7 * 0.1084, abs=0.7 * 5e-5)
    assert mass.high_kg_per_m == pytest.approx(PACKING * 1390 * math.pi / 4 * 0.010**2)
    assert "Physical Properties of Textile Fibres" in mass.source
    assert "from memory" in mass.source
    assert "common practice, unconfirmed" in mass.source


@pytest.mark.parametrize(("stated", "per_60_m_lb"), [("7.5 lb/100ft", 14.764), ("13.3 lb/100ft", 26.181)])
def test_manila_weighs_what_the_table_states_and_nothing_is_estimated_for_it(stated: str, per_60_m_lb: float) -> None:
    """29 CFR 1910.184 old Table N-184-16: manila 1/2 in 7.5 lb/100 ft, 5/8 in 13.3; 60 m are 196.85 ft."""
    pound = Fraction("0.45359237")  # kg, NIST Special Publication 811
    kg = carried_kg(60.0, line_mass(LinearMass.read(stated).si, 0.0127, "manila").kg_per_m)
    assert kg is not None
    assert kg / float(pound) == pytest.approx(per_60_m_lb, abs=5e-4)
    unknown = line_mass(None, 0.0127, "manila")
    assert unknown.kg_per_m is None
    assert "no density with a source is known for manila" in unknown.why


@pytest.mark.parametrize(
    ("fibre", "low", "high"),
    [("polyamide", 1140, 1140), ("polypropylene", 910, 910), ("hmpe", 960, 970), ("aramid", 1440, 1450)],
)
def test_the_estimate_follows_the_density_of_the_tables(fibre: str, low: float, high: float) -> None:
    """Handbook of Properties of Textile and Technical Fibres, Table 1.1."""
    mass = line_mass(None, 0.012, fibre)
    section = 0.7 * math.pi * 0.006**2
    assert (mass.low_kg_per_m, mass.high_kg_per_m) == pytest.approx((section * low, section * high))
