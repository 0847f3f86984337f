"""Shortening over a bury: the standing part swells over the tail, and its strands, kept in length, draw it short.

Over the whole tail the mean diameter grows k times; where the tail fades, by the area that is left (``braid``). The
shortening of a stretch is its length times (1 - ratio); between cut steps the fill is taken at its mean.
"""

from __future__ import annotations

import math
from itertools import pairwise

from gearlog.domain.plan import Shortening
from gearlog.domain.plan_inputs import PlanInputs
from gearlog.splicing.braid import angle_from_pitch, length_ratio, swelling_at
from gearlog.splicing.formula import evaluate
from gearlog.splicing.method import Method
from gearlog.splicing.names import Names
from gearlog.splicing.profile import tail_fractions

OWN_MEASURE = "the user's own measure"
MEAN_OVER_NOMINAL = 2 / 3  # mean over nominal diameter where strands fill the round section: its mean radius by area


def shortening_of(method: Method, inputs: PlanInputs, names: Names, strands: int) -> Shortening | None:
    """The shortening over all buries of the splice (m), or None where the method has none."""
    rule = method.swelling
    if rule is None:
        return None
    degrees = inputs.braid_angle_deg or angle_from_picks(inputs, strands) or rule.braid_angle_deg
    full = inputs.swelling or rule.full
    bury, taper = (float(names[name].value) for name in (rule.bury, rule.taper))
    left = float(evaluate(method.taper.strands_left, names).value) if method.taper else 0.0
    angle = math.radians(degrees)
    over_one = (bury - taper) * (1 - length_ratio(angle, full)) + sum(
        length * (1 - length_ratio(angle, swelling_at(fill, full))) for length, fill in _stretches(taper, strands, left)
    )
    return Shortening(
        length_m=rule.buries * over_one + inputs.shortening_correction_m,
        ratio=length_ratio(angle, full),
        braid_angle_deg=degrees,
        swelling=full,
        source=_source(method, inputs, strands) + _learned(inputs),
        learned_m=inputs.shortening_correction_m,
    )


def _stretches(taper_m: float, strands: int, left: float) -> list[tuple[float, float]]:
    """Length and mean fill of each stretch of a fading tail."""
    points = tail_fractions(taper_m, strands, left)
    return [(end - start, (before + after) / 2) for (start, before), (end, after) in pairwise(points)]


def angle_from_picks(inputs: PlanInputs, strands: int) -> float | None:
    """Braid angle in degrees from the measured pick length, or None where none was measured.

    Along a line on the rope one turn of a strand spans half as many picks as there are carriers.
    """
    pick = inputs.rope.pick_length_m
    if not pick or not strands:
        return None
    mean = MEAN_OVER_NOMINAL * inputs.rope.diameter_m
    return math.degrees(angle_from_pitch(mean, pick * strands / 2))


def _learned(inputs: PlanInputs) -> str:
    return f"; corrected: {inputs.shortening_words}" if inputs.shortening_correction_m else ""


def _source(method: Method, inputs: PlanInputs, strands: int) -> str:
    angle = (
        "angle" if inputs.braid_angle_deg else "angle from the pick length" if angle_from_picks(inputs, strands) else ""
    )
    typed = [name for name in (angle, "swelling" if inputs.swelling else "") if name]
    default = method.source_text(method.swelling.source) if method.swelling else ""
    words = f"braid geometry; {' and '.join(typed)}: {OWN_MEASURE}" if typed else f"braid geometry; defaults: {default}"
    return words if len(typed) != 1 else f"{words}, the other: {default}"
