"""The eye on its pin, and the shortening over the buries, explained."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from gearlog.domain.explained import Explained
from gearlog.domain.plan import EyeGeometry, Shortening
from gearlog.splicing.braid import swelling_at, swollen_angle
from gearlog.splicing.checks_eye import MARKED_CURVATURE, MOORING_EYE, MOORING_SOURCE
from gearlog.splicing.explaining.figures import plain
from gearlog.splicing.explaining.sheet import TYPED, Rule, Sheet
from gearlog.splicing.eye import throat_distance
from gearlog.splicing.formula import evaluate
from gearlog.splicing.profile import tail_fractions
from gearlog.splicing.rules import SwellingRule

GEOMETRY = "plane geometry of the loop on a round pin"
BRAID = "braid geometry: strand length is kept while the braid swells"
PULLED_FLAT = "by definition: the eye pulled flat is two legs"
DIARY = "the user's own diary"
NOTHING_LEARNED = "nothing was taken from the diary"
JAMS = "the braid jams: nothing is left of its length"
THROAT = "x is the one distance at which 2 * sqrt(x * x - r * r) + r * (pi + 2 * asin(r / x)) is the loop, r = pin / 2"
THIMBLE = "round a thimble it is half of the groove's length; over a stem half of its girth at least"
LENGTH_OVER_ROPE = "at least {} rope diameters are asked"
LENGTH_OVER_PIN = "at least {} pin diameters are asked"
MOORING = f"; of mooring eyes {MOORING_EYE}: {MOORING_SOURCE}"
CURVATURE = "at least {} are asked"
THROAT_ANGLE = "the whole angle, twice this, is {} degrees at most"
INSIDE = "in each stretch the swelling is sqrt(1 + fill * (swelling * swelling - 1)), the fill taken at its mean"


def _said(sheet: Sheet, limit: str, words: str, more: str = "") -> tuple[str, ...]:
    """What the method's source says of a number of the eye; ``words`` with the limit put in."""
    limits = sheet.method.limits
    value = getattr(limits, limit)
    if value is None:
        return ()
    source = sheet.method.source_text(getattr(limits, f"{limit}_source"))
    return (f"{words.format(f'{value:g}')}: {source}{more}",)


def eye(sheet: Sheet) -> Iterator[Explained]:
    """Loop, angle at the throat, load in each leg, D/d."""
    found = sheet.plan.eye
    if found is None:
        return
    inside = sheet.figures.length(found.inside_length_m)
    said = (*_said(sheet, "eye_over_rope", LENGTH_OVER_ROPE), *_over_pin(sheet, found), THIMBLE)
    asked = Rule("eye", inside, TYPED, said)
    yield sheet.length("eye.inside_length_m", "eye, inside length", found.inside_length_m, asked)
    loop = Rule("2 * eye", f"2 * {inside}", PULLED_FLAT)
    yield sheet.length("eye.circumference_m", "loop of the eye", found.circumference_m, loop)
    if found.pin_m is not None:
        yield from _on_pin(sheet, found, found.pin_m)


def _over_pin(sheet: Sheet, found: EyeGeometry) -> tuple[str, ...]:
    """The eye over its pin, and what is said of it."""
    if found.pin_m is None:
        return ()
    ratio = f"here {found.inside_length_m / found.pin_m:.2f} pin diameters"
    return (ratio, *_said(sheet, "eye_over_pin", LENGTH_OVER_PIN, MOORING))


def _on_pin(sheet: Sheet, found: EyeGeometry, pin_m: float) -> Iterator[Explained]:
    pin, half = sheet.figures.length(pin_m), found.half_angle_deg
    yield sheet.length("eye.pin_m", "pin's diameter", pin_m, Rule("pin", pin, TYPED))
    if found.d_over_d is not None:
        said = _said(sheet, "pin_over_rope", CURVATURE, f"; {MARKED_CURVATURE} where so marked")
        over = Rule("pin / d", f"{pin} / {sheet.exact['d']}", GEOMETRY, said)
        yield sheet.number("eye.d_over_d", "pin over rope diameter, D/d", found.d_over_d, over)
    x = throat_distance(found.circumference_m, pin_m)
    if half is None or x is None:
        return
    away = sheet.figures.length(x)
    where = f"x = {away}, from the pin's centre to the throat: {THROAT}"
    said = _said(sheet, "throat_angle_deg", THROAT_ANGLE)
    angle = Rule("degrees(asin(pin / 2 / x))", f"degrees(asin({pin} / 2 / {away}))", GEOMETRY, (where, *said))
    yield sheet.number("eye.half_angle_deg", "half of the angle at the throat, in degrees", half, angle)
    if found.contact_arc_m is not None:
        worked = f"{pin} / 2 * radians(180 + 2 * {plain(half)})"
        on_it = Rule("pin / 2 * radians(180 + 2 * half angle)", worked, GEOMETRY)
        yield sheet.length("eye.contact_arc_m", "how much of the loop lies on the pin", found.contact_arc_m, on_it)
    if found.leg_tension_ratio is not None:
        legs = Rule("1 / (2 * cos(half angle))", f"1 / (2 * cos(radians({plain(half)})))", GEOMETRY)
        yield sheet.number("eye.leg_tension_ratio", "load in each leg over the load", found.leg_tension_ratio, legs)


def shortening(sheet: Sheet) -> Iterator[Explained]:
    """Braid angle, swelling, what is left of a length, and the shortening of all buries."""
    found, rule = sheet.plan.shortening, sheet.method.swelling
    if found is None or rule is None:
        return
    angle, full = (
        Rule.given(plain(found.braid_angle_deg), found.source),
        Rule.given(plain(found.swelling), found.source),
    )
    yield sheet.number("shortening.braid_angle_deg", "strand to axis, in degrees", found.braid_angle_deg, angle)
    yield sheet.number("shortening.swelling", "growth of the diameter over a whole tail", found.swelling, full)
    ratio = Rule(
        "cos(asin(swelling * sin(angle))) / cos(angle)",
        _ratio(found, found.swelling, plain(found.swelling)),
        f"{BRAID}; {JAMS}" if found.ratio <= 0 else BRAID,
    )
    yield sheet.number("shortening.ratio", "length after over length before", found.ratio, ratio)
    yield sheet.length(
        "shortening.length_m", "shortening over all buries", found.length_m, _over_all(sheet, found, rule)
    )
    source = f"{DIARY}: {sheet.plan.inputs.shortening_words}" if found.learned_m else NOTHING_LEARNED
    learned = Rule.given(sheet.figures.length(found.learned_m), source)
    yield sheet.length("shortening.learned_m", "more shortening, learned from the diary", found.learned_m, learned)


def _over_all(sheet: Sheet, found: Shortening, rule: SwellingRule) -> Rule:
    """The sum over the whole tail and over each stretch of the fading one, for each bury."""
    names, show = sheet.worked.names, sheet.figures.length
    bury, taper = (float(names[name].value) for name in (rule.bury, rule.taper))
    parts = [f"({show(bury)} - {show(taper)}) * (1 - {plain(found.ratio)})"]
    for (start, before), (end, after) in pairwise(_fading(sheet, taper)):
        parts.append(_stretch(found, show(end - start), (before + after) / 2))
    formula = "buries * ((bury - taper) * (1 - ratio) + sum over the taper of stretch * (1 - its ratio))"
    worked = f"{rule.buries} * ({' + '.join(parts)})"
    if found.learned_m:
        formula, worked = f"{formula} + learned", f"{worked} + {show(found.learned_m)}"
    return Rule(formula, worked, f"{BRAID}; {found.source}", (INSIDE,))


def _fading(sheet: Sheet, taper_m: float) -> list[tuple[float, float]]:
    rule = sheet.method.taper
    left = float(evaluate(rule.strands_left, sheet.worked.names).value) if rule else 0.0
    return tail_fractions(taper_m, sheet.worked.strands, left)


def _stretch(found: Shortening, length: str, fill: float) -> str:
    full = plain(found.swelling)
    worked = f"sqrt(1 + {plain(fill)} * ({full} * {full} - 1))"
    return f"{length} * (1 - {_ratio(found, swelling_at(fill, found.swelling), worked)})"


def _ratio(found: Shortening, swelling: float, worked: str) -> str:
    """The worked ratio at a swelling; nothing is left where the braid jams."""
    if swollen_angle(math.radians(found.braid_angle_deg), swelling) is None:
        return "0"
    angle = f"radians({plain(found.braid_angle_deg)})"
    return f"cos(asin({worked} * sin({angle}))) / cos({angle})"
