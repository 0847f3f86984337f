"""What the facts of a rope must keep: ids that exist, strand counts that can be braided, sizes that can be right."""

from __future__ import annotations

import math
from collections.abc import Iterator

from gearlog.domain.constructions import Construction, all_constructions, construction
from gearlog.domain.fibres import all_fibres
from gearlog.domain.item import RopeFacts
from gearlog.errors import Fault
from gearlog.units.quoting import quoted

DIAMETER_M = (0.001, 0.100)  # m; from thin cord to a ship's hawser
LONGEST_M = 10_000  # m; ten times the longest common spool
STRETCH_PERCENT = 100  # nylon stretches by about half at its break (NAVEDTRA 12018); above it a digit slipped
DENSEST = 1450  # kg/m3, para-aramid (Handbook of Properties of Textile and Technical Fibres, Table 1.1)
HEAVIER_THAN_ROD = 2  # times a solid rod: real rope is lighter than one, and a nominal diameter may be off


def rope_faults(rope: RopeFacts) -> Iterator[Fault]:
    """What is wrong with the facts of a rope."""
    known = {one.id for one in all_constructions()}
    if rope.construction not in known:
        way_out = f"choose one of {', '.join(sorted(known))}"
        yield Fault("construction", f"{quoted(rope.construction)} is not known", way_out)
        return
    yield from _made_faults(rope, construction(rope.construction))
    yield from _fibre_faults(rope)
    yield from _size_faults(rope)
    yield from _stretch_faults(rope)
    if rope.cut_from is not None and not rope.parent_id:
        yield Fault("cut_from", "is given without the rope it was cut from", "name that rope, or leave this empty")


def _made_faults(rope: RopeFacts, made: Construction) -> Iterator[Fault]:
    if rope.strands is not None and not made.takes_strands(rope.strands):
        yield Fault("strands", f"{rope.strands} cannot be right for {made.title}", strands_way_out(made))
    if rope.lay is not None and not made.tight_words:
        yield Fault("lay", f"does not belong to {made.title}", "leave it empty, or choose hollow braid")
    if rope.core_fibre and not made.has_core:
        yield Fault(
            "core_fibre", f"is given, but {made.title} has no core", "leave it empty, or choose another construction"
        )


def strands_way_out(made: Construction) -> str:
    """Which counts of strands or carriers can be right, with an example."""
    if made.least_strands == made.most_strands:
        return f"type {made.least_strands}, or leave it empty"
    return f"type an even number from {made.least_strands} to {made.most_strands}, such as {made.default_strands}"


def _fibre_faults(rope: RopeFacts) -> Iterator[Fault]:
    known = {one.id for one in all_fibres()}
    for name in ("cover_fibre", "core_fibre"):
        value = getattr(rope, name)
        if value and value not in known:
            yield Fault(
                name, f"{quoted(value)} is not known", f"choose one of {', '.join(sorted(known))}, or leave it empty"
            )


def _size_faults(rope: RopeFacts) -> Iterator[Fault]:
    least, most = DIAMETER_M
    if rope.diameter is not None and not least <= rope.diameter.si <= most:
        yield Fault(
            "diameter", f"{rope.diameter} cannot be right for a rope", "type 1 to 100 mm, such as 12.7 mm or 1/2 in"
        )
    if rope.length_bought is not None and not 0 < rope.length_bought.si <= LONGEST_M:
        yield Fault(
            "length_bought", f"{rope.length_bought} cannot be right for a rope", "type at most 10 km, such as 45 m"
        )
    if rope.mass_per_length is not None and rope.diameter is not None:
        yield from _mass_faults(rope.mass_per_length.si, rope.diameter.si)


def _mass_faults(kg_per_m: float, diameter_m: float) -> Iterator[Fault]:
    rod = DENSEST * math.pi / 4 * diameter_m**2
    if kg_per_m > HEAVIER_THAN_ROD * rod:
        reason = "is more than a solid rod of this diameter could weigh"
        yield Fault("mass_per_length", reason, "check its unit and the diameter; such as 68 g/m or 7.5 lb/100ft")


def _stretch_faults(rope: RopeFacts) -> Iterator[Fault]:
    percent = rope.elongation_percent
    if percent is not None and not 0 <= percent <= STRETCH_PERCENT:
        yield Fault("elongation_percent", f"{percent:g} cannot be right", "type 0 to 100, such as 1.5")
