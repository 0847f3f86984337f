"""Checks of the rope against what documents say of such ropes: strength for the size, stretch, hitches, break tests."""

from __future__ import annotations

import math
from collections.abc import Iterator

from gearlog.domain.plan import Check
from gearlog.domain.vocabulary import Unit
from gearlog.splicing.draft import ROUNDING, Draft, found
from gearlog.splicing.eye import leg_tension_ratio
from gearlog.splicing.method import COMMON_PRACTICE_LABEL
from gearlog.splicing.strength import DESIGN_FACTOR
from gearlog.splicing.tape import INCH_M
from gearlog.units import showing

POUND_FORCE_N = 4.4482216152605  # NIST Special Publication 811, appendix B
LAID_LBF = {"manila": 900, "polyamide": 2400}  # lbf, times the circumference in inches squared: NAVEDTRA 14043
LAID_SOURCE = "NAVEDTRA 14043"
FAR_OFF = 2  # times the rule's strength; ours, because ropes of one size differ
NYLON_WORKS = 1 / 3  # of its length: NAVEDTRA 12018
NYLON_SOURCE = "NAVEDTRA 12018"
HARMLESS = 0.75  # of the breaking strength; loaded above it rope is damaged for good: NAVEDTRA 14160
HARMLESS_SOURCE = "NAVEDTRA 14160"
HITCHED = frozenset({"sling", "loop"})
CHOKED = 0.5  # of what a sling carries straight: 29 CFR 1910.184, old Table N-184-16
HITCH_SOURCE = "29 CFR 1910.184, old Table N-184-16, of manila rope slings"
BASKET_DEG = (60, 45, 30)  # legs to the horizontal, as the table has them
TEST_EYE, TEST_PIN = 6, 2  # rope diameters at least: ISO 2307:2010 5.1
GAUGE = (2, 3)  # rope diameters from the splice: ISO 2307:2010 9.2
TENSION_N = 10 / 8  # N, times the square of the reference number in mm, n^2 / 8 daN: ISO 2307 Annex A
COUNTS_FROM = 0.90  # of the specified force, where it broke outside the marks: ISO 2307:2010 9.7.2
TEST_SOURCE = f"ISO 2307:2010 5.1, 9.2, 9.7.2; its Annex A from memory, unconfirmed; {HARMLESS_SOURCE}"


def likely_strength(draft: Draft) -> Iterator[Check]:
    """A strength that was typed against the handbook's rule for laid manila and laid nylon."""
    rope = draft.worked.inputs.rope
    factor = LAID_LBF.get(rope.fibre) if rope.construction == "three-strand" else None
    if factor is None or rope.mbs_n is None:
        return
    expected, force = laid_strength_n(factor, rope.diameter_m), draft.worked.force
    if expected / FAR_OFF <= rope.mbs_n <= expected * FAR_OFF:
        return
    much = rope.mbs_n > expected
    message = (
        f"The breaking strength of {force(rope.mbs_n)} is {'more than twice' if much else 'less than half of'} what a "
        f"handbook's rule gives for laid {rope.fibre} of this size ({force(expected)}). Read the label and unit again."
    )
    source = f"{LAID_SOURCE} ({factor:,} lbf times the circumference in inches squared); twice and half are our margin"
    yield found("warn" if much else "note", "mbs-unlikely", message, source)


def laid_strength_n(factor_lbf: float, diameter_m: float) -> float:
    """Breaking strength (N) of laid rope by the handbook's rule: a factor times the circumference in inches squared."""
    return factor_lbf * (math.pi * diameter_m / float(INCH_M)) ** 2 * POUND_FORCE_N


def nylon_stretch(draft: Draft) -> Iterator[Check]:
    """How much longer a piece of nylon gets than it was planned."""
    worked = draft.worked
    rope, cut = worked.inputs.rope, worked.names.get("cut")
    if "polyamide" in (rope.fibre, rope.core_fibre) and worked.method.carries and cut is not None:
        message = (
            "Lengths are of the relaxed rope. Polyamide works at up to a third of stretch, on this piece "
            f"{worked.show(float(cut.value) * NYLON_WORKS)}, and is about half as long again when it breaks."
        )
        yield found("note", "nylon-stretch", message, NYLON_SOURCE)


def overloaded(draft: Draft) -> Iterator[Check]:
    """A design factor so small that the working load itself would do lasting damage."""
    factor = draft.worked.inputs.design_factor
    if factor is None or not draft.worked.method.carries or 1 / factor <= HARMLESS * (1 + ROUNDING):
        return
    message = (
        f"Over a design factor of {factor:g} the rope may be loaded to {1 / factor:.0%} of its strength; above "
        f"{HARMLESS:.0%} it is damaged for good. {DESIGN_FACTOR:g} is common practice for people."
    )
    yield found("warn", "factor-too-small", message, f"{HARMLESS_SOURCE}; {DESIGN_FACTOR:g}: {COMMON_PRACTICE_LABEL}")


def hitches(draft: Draft) -> Iterator[Check]:
    """What a sling carries choked or as a basket, against what it carries straight."""
    if draft.worked.method.shape not in HITCHED:
        return
    baskets = ", ".join(f"{basket_over_straight(angle):.2f} at {angle} deg" for angle in BASKET_DEG)
    message = (
        f"The strength told is of a straight pull. Choked, a sling carries {CHOKED:g} of it; as a basket, by its legs' "
        f"angle to the horizontal: {baskets}."
    )
    yield found("note", "hitches", message, HITCH_SOURCE)


def basket_over_straight(horizontal_deg: float) -> float:
    """What a basket carries over what the sling carries straight, its legs at this angle to the horizontal."""
    return 1 / leg_tension_ratio(math.radians(90 - horizontal_deg))


def break_test(draft: Draft) -> Iterator[Check]:
    """How samples are made and read, where only break tests can tell what the splice keeps."""
    worked, method = draft.worked, draft.worked.method
    if not method.carries or (method.strength.fraction is not None and not method.own):
        return
    size = worked.inputs.rope.diameter_m
    nearest, furthest = (worked.show(times * size) for times in GAUGE)
    message = (
        f"For break tests: eyes of {worked.show(TEST_EYE * size)} inside or longer on pins of "
        f"{worked.show(TEST_PIN * size)} or thicker; gauge marks {nearest} to {furthest} from the splice, measured at "
        f"{_tension(draft)}. A break outside the marks counts from {COUNTS_FROM:.0%} of the specified force and is not "
        f"scaled up by 10/9. What will be used is not loaded above {HARMLESS:.0%} of the rope's strength."
    )
    yield found("note", "break-test", message, TEST_SOURCE)


def _tension(draft: Draft) -> str:
    """The tension at which a test piece is measured, in N or lbf: it is too small for kN."""
    newtons = reference_tension_n(draft.worked.inputs.rope.diameter_m)
    if draft.worked.inputs.unit is Unit.IMPERIAL:
        return showing.force(newtons, imperial=True)
    return f"{showing.rounded(newtons)} N"


def reference_tension_n(diameter_m: float) -> float:
    """The tension (N) at which a rope of this size is measured."""
    return TENSION_N * (diameter_m * 1000) ** 2
