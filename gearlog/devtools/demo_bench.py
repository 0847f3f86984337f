"""How the invented splices came out: believable measurements, minutes and troubles from a seeded generator."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from random import Random
from typing import Any

from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import Difficulty
from gearlog.units.measure import Length

MM_PER_M = 1000.0
MM_PER_INCH = 25.4
SIXTEENTHS = 16  # parts of an inch on the crew's imperial tape
IMPERIAL_HANDS = frozenset({"EF"})  # who of the crew owns a tape in inches
TAPE_MM = 1.5  # standard deviation of a mark set with tape and pen
OFF_MM = 7.0  # an eye further off than this is remarked upon
USED_FACTOR = 1.35  # a stiff rope takes longer and comes out less even


@dataclass(frozen=True, slots=True)
class Craft:
    """How a method goes with this crew.

    Attributes:
        minutes: of a maker's first one; ``gain`` the part of it saved by practice.
        bias_mm: finished eye minus planned one; ``spread_mm`` its standard deviation.
        tools: what is taken to the bench.
        fid: length and thickness of the fid, as typed into the planner; empty where none serves.
        finish: how it is finished.
        troubles: difficulty -> chance of it in new rope and in used rope.
    """

    minutes: float
    gain: float
    bias_mm: float
    spread_mm: float
    tools: str
    fid: tuple[str, str]
    finish: str
    troubles: Mapping[Difficulty, tuple[float, float]]


CRAFTS = {
    "cover-eye": Craft(
        66, 0.30, -4, 1.8, "wire fid, tape, needle", ("280 mm", "4 mm"), "whipping",
        {
            Difficulty.STIFF_ROPE: (0.05, 0.85),
            Difficulty.CORE_HARD_TO_DRAW: (0.10, 0.60),
            Difficulty.CROSSOVER_BULKY: (0.20, 0.35),
            Difficulty.TAIL_STUCK: (0.08, 0.30),
        },
    ),
    "hollow-eye": Craft(
        30, 0.25, -2, 2.6, "wire fid, tape, needle", ("300 mm", "5 mm"), "lock-stitch",
        {
            Difficulty.WOULD_NOT_MILK: (0.08, 0.40),
            Difficulty.TIGHT_BRAID: (0.05, 0.35),
            Difficulty.UNEVEN_TAPER: (0.15, 0.20),
        },
    ),
    "laid-eye": Craft(
        27, 0.25, 2, 3.2, "pointed fid, tape", ("", ""), "whipping",
        {
            Difficulty.STIFF_ROPE: (0.05, 0.80),
            Difficulty.UNEVEN_TAPER: (0.20, 0.25),
            Difficulty.STRAND_PULLED: (0.04, 0.15),
        },
    ),
}  # fmt: skip
REMARKS = {
    Difficulty.STIFF_ROPE: "flexed the last metre by hand first",
    Difficulty.CORE_HARD_TO_DRAW: "core came once the cover was milked back over 2 m",
    Difficulty.CROSSOVER_BULKY: "rolled the crossover flat before whipping",
    Difficulty.TAIL_STUCK: "taped the tail to a longer taper, second pull went through",
    Difficulty.WOULD_NOT_MILK: "tied off the standing part and milked with wet hands",
    Difficulty.TIGHT_BRAID: "opened the braid over a wider stretch",
    Difficulty.UNEVEN_TAPER: "one pair cut too early",
    Difficulty.STRAND_PULLED: "worked the strand back, no harm seen",
}


def planned(work: Mapping[str, Any]) -> dict[str, str]:
    """What was typed into the planner for a row of the table, beside the rope itself."""
    length, thickness = CRAFTS[work["method"]].fid
    typed = {name: work.get(name, "") for name in ("method", "eye", "pin", "condition")}
    return typed | {"fid": length, "fid_thickness": thickness}


def came_out(work: Mapping[str, Any], plan: Plan, earlier: int, dice: Random) -> dict[str, str]:
    """The record's form for a splice made after ``earlier`` ones of its kind by the same hands."""
    craft, used = CRAFTS[work["method"]], work["condition"] != "new"
    slow = USED_FACTOR if used else 1.0
    hard = [word for word, chances in craft.troubles.items() if dice.random() < chances[used]]
    off = dice.gauss(craft.bias_mm, craft.spread_mm * slow)
    minutes = craft.minutes * slow * (1 - craft.gain * (1 - 0.6**earlier)) * dice.gauss(1, 0.08)
    return {
        "finished_eye": _tape(Length.read(work["eye"]).si * MM_PER_M + off, work["made_by"]),
        "minutes": str(round(minutes + 3 * len(hard))),
        "tools": craft.tools,
        "finish": craft.finish,
        "made_by": work["made_by"],
        "checked_by": "CD" if work["made_by"] == "AB" else "AB",
        "notes": "; ".join(REMARKS[word] for word in hard[:1]),
        **_verdict(work, hard, off),
        **_marks(plan, work["made_by"], dice),
        **work.get("found", {}),
    }


def _verdict(work: Mapping[str, Any], hard: list[Difficulty], off: float) -> dict[str, str]:
    if abs(off) > OFF_MM:
        hard = [*hard, Difficulty.EYE_OFF_SIZE]
    usual = "usable-with-remark" if abs(off) > OFF_MM else "good"
    return {
        "outcome": work.get("outcome", usual),
        "difficulties": ", ".join(hard),
        "ease": str(max(1, 5 - len(hard) - (work["condition"] != "new"))),
    }


def _marks(plan: Plan, hands: str, dice: Random) -> dict[str, str]:
    return {
        f"measured.{mark.id}": _tape(max(mark.at_m * MM_PER_M + dice.gauss(0, TAPE_MM), 1), hands)
        for mark in plan.marks
        if mark.at_m > 0
    }


def _tape(millimetres: float, hands: str) -> str:
    """What this pair of hands reads from its own tape."""
    if hands not in IMPERIAL_HANDS:
        return f"{millimetres:.0f} mm"
    whole, parts = divmod(round(millimetres / MM_PER_INCH * SIXTEENTHS), SIXTEENTHS)
    fraction = str(Fraction(parts, SIXTEENTHS)) if parts else ""
    return " ".join(part for part in (str(whole) if whole else "", fraction, "in") if part)
