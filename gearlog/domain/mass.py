"""Carried mass: what a rope weighs aloft, from its stated mass per length, or estimated from fibre and diameter.

Estimate: density x packing x area of the circle of the nominal diameter. A solid rod of polyester, 10 mm at
1,380 kg/m3, has 108.4 g/m; a real rope holds air, and fills about 0.7 of its circle.
"""

from __future__ import annotations

import math

import msgspec

from gearlog.domain.fibres import Fibre, fibre

PACKING = 0.7  # fibre section over the circle of the nominal diameter; from memory
PACKING_LABEL = "packing 0.7: common practice, unconfirmed, from memory"
STATED = "as stated in the record"


class LineMass(msgspec.Struct, frozen=True, kw_only=True):
    """Mass per length of a rope (kg/m); None is unknown, and ``why`` says why.

    Attributes:
        kg_per_m: as stated, or the middle of the estimate.
        low_kg_per_m: the estimate from the lightest fibre that the sources allow; ``high_kg_per_m`` from the heaviest.
        estimated: whether it is an estimate.
        source: where it is from.
        why: why it is unknown, with the way out.
    """

    kg_per_m: float | None = None
    low_kg_per_m: float | None = None
    high_kg_per_m: float | None = None
    estimated: bool = False
    source: str = ""
    why: str = ""


def carried_kg(length_m: float, kg_per_m: float | None) -> float | None:
    """Mass of ``length_m`` of rope (kg), or None where its mass per length is unknown."""
    return None if kg_per_m is None else length_m * kg_per_m


def line_mass(
    stated_kg_per_m: float | None, diameter_m: float | None, cover: str, core: str = "", *, has_core: bool = False
) -> LineMass:
    """The stated mass per length, else an estimate, else unknown with the reason.

    ``cover`` and ``core`` are ids of fibres; ``has_core`` tells whether anything lies inside the strands.
    """
    if stated_kg_per_m is not None:
        return LineMass(kg_per_m=stated_kg_per_m, source=STATED)
    why = _missing(diameter_m, cover, core, has_core=has_core)
    if why or diameter_m is None:
        return LineMass(why=f"{why}; weigh a length of the rope, or enter what its maker states")
    return _estimate(diameter_m, [fibre(name) for name in dict.fromkeys((cover, core) if has_core else (cover,))])


def _missing(diameter_m: float | None, cover: str, core: str, *, has_core: bool) -> str:
    if diameter_m is None:
        return "its diameter is not known"
    if not cover:
        return "its fibre is not known"
    if has_core and not core:
        return "the fibre of its core is not known"
    unknown = [name for name in (cover, core if has_core else "") if name and fibre(name).density_range is None]
    return f"no density with a source is known for {' and '.join(unknown)}" if unknown else ""


def _estimate(diameter_m: float, fibres: list[Fibre]) -> LineMass:
    """From the lightest to the heaviest fibre in it; how much of each there is, is not known."""
    ranges = [one.density_range for one in fibres if one.density_range]
    low, high = min(low for low, _ in ranges), max(high for _, high in ranges)
    section = PACKING * math.pi / 4 * diameter_m**2
    densities = "; ".join(dict.fromkeys(one.density_source for one in fibres))
    return LineMass(
        kg_per_m=section * (low + high) / 2,
        low_kg_per_m=section * low,
        high_kg_per_m=section * high,
        estimated=True,
        source=f"estimated: density {low:g} to {high:g} kg/m3 ({densities}); {PACKING_LABEL}",
    )
