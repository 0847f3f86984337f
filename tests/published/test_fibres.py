"""Fibre densities and rope facts against the tables they were read from."""

from __future__ import annotations

import math

import pytest

from gearlog.domain.constructions import construction
from gearlog.domain.fibres import all_fibres, fibre
from gearlog.errors import NotFoundError

# g/cm3: Physical Properties of Textile Fibres, Tables 5.1, 5.2;
# Handbook of Properties of Textile and Technical Fibres, Table 1.1
TABLES = {
    "polyamide": (1.14, 1.14),
    "polyester": (1.38, 1.39),
    "polypropylene": (0.91, 0.91),
    "hmpe": (0.96, 0.97),
    "aramid": (1.44, 1.45),
}


@pytest.mark.parametrize("id", sorted(TABLES))
def test_the_density_of_a_synthetic_fibre_is_that_of_its_tables(id: str) -> None:  # noqa: A002
    low, high = TABLES[id]
    one = fibre(id)
    assert one.density_kg_m3 == pytest.approx((low + high) / 2 * 1000)
    assert list(one.density_range or ()) == pytest.approx([low * 1000, high * 1000])
    assert "Table 1.1" in one.density_source


def test_a_density_without_a_source_is_unknown_and_not_guessed() -> None:
    assert [one.id for one in all_fibres() if one.density_kg_m3 is None] == ["manila", "sisal", "hemp", "cotton"]
    assert all(bool(one.density_source) is (one.density_range is not None) for one in all_fibres())
    assert all(one.notes_source for one in all_fibres() if one.notes)


def test_a_solid_rod_of_polyester_weighs_what_the_density_says() -> None:
    # 10 mm at 1.38 g/cm3: 108.4 g/m (computed)
    density = fibre("polyester").density_range
    assert density is not None
    assert density[0] * math.pi / 4 * 0.010**2 * 1000 == pytest.approx(108.4, abs=0.05)


def test_natural_fibres_are_those_whose_tucks_29_cfr_1910_184_counts_apart() -> None:
    assert [one.id for one in all_fibres() if one.kind == "natural"] == ["manila", "sisal", "hemp", "cotton"]


def test_nylon_is_understood_and_loses_fifteen_percent_when_wet() -> None:
    assert fibre("Nylon") is fibre("polyamide") is fibre(" POLYAMIDE ")
    assert "15 %" in fibre("nylon").notes  # UFC 4-159-03 Table 3-7
    assert "UFC 4-159-03" in fibre("nylon").notes_source


def test_an_unknown_fibre_is_told_with_those_that_are_known() -> None:
    with pytest.raises(NotFoundError, match=r"'wool' is not a fibre; .*polyester"):
        fibre("wool")


def test_no_two_fibres_share_a_name() -> None:
    names = [name for one in all_fibres() for name in (one.id, *one.aliases)]
    assert len(names) == len(set(names)) == len({name.casefold() for name in names})


def test_half_of_a_double_braid_is_its_core() -> None:
    # NAVEDTRA 14067 ch. 3; COMDTINST M16114.5C ch. 7
    double = construction("double-braid")
    assert "half" in double.load_words
    assert "NAVEDTRA 14067" in double.sources["load_words"]


def test_a_single_braid_has_twelve_strands() -> None:
    # NAVEDTRA 14067 ch. 3: single braid, 12 strands, each over two, under two
    assert construction("hollow-braid").default_strands == 12
