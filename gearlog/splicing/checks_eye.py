"""Checks of the eye on its pin."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.plan import Check
from gearlog.splicing.draft import ROUNDING, Draft, found

GEOMETRY = "plane geometry of the loop on the pin"
MOORING_EYE = 5  # diameters of the fitting, of mooring eyes: NSTM 613-2.5.1
MOORING_SOURCE = "NSTM 613-2.5.1"
MARKED_CURVATURE = 8  # rope diameters, where so marked: 29 CFR 1910.184 Fig. N-184-4


def pin_fits(draft: Draft) -> Iterator[Check]:
    """A pin that does not go into the loop stops the plan."""
    if draft.eye is not None and draft.eye.pin_m is not None and draft.eye.half_angle_deg is None:
        show = draft.worked.show
        message = f"A pin of {show(draft.eye.pin_m)} does not fit into a loop of {show(draft.eye.circumference_m)}."
        yield found("stop", "pin-too-large", message + " Plan a larger eye.", GEOMETRY)


def eye_over_pin(draft: Draft) -> Iterator[Check]:
    """The eye's length over the pin's diameter."""
    limits, eye = draft.worked.method.limits, draft.eye
    if eye is None or eye.pin_m is None or limits.eye_over_pin is None or eye.half_angle_deg is None:
        return
    least = limits.eye_over_pin * eye.pin_m
    if eye.inside_length_m < least * (1 - ROUNDING):
        message = (
            f"The eye is shorter than {limits.eye_over_pin:g} pin diameters ({draft.worked.show(least)}); "
            f"of mooring eyes {MOORING_EYE} are asked ({draft.worked.show(MOORING_EYE * eye.pin_m)})."
        )
        source = f"{draft.worked.method.source_text(limits.eye_over_pin_source)}; {MOORING_SOURCE} ({MOORING_EYE})"
        yield found("warn", "eye-small-for-pin", message, source)


def throat_angle(draft: Draft) -> Iterator[Check]:
    """The angle at which the legs meet."""
    limits, half = draft.worked.method.limits, draft.eye.half_angle_deg if draft.eye else None
    if half is not None and limits.throat_angle_deg is not None and 2 * half > limits.throat_angle_deg * (1 + ROUNDING):
        message = f"The legs meet at {2 * half:.1f} deg on this pin; {limits.throat_angle_deg:g} deg is the most."
        source = draft.worked.method.source_text(limits.throat_angle_deg_source)
        yield found("warn", "throat-angle", message + " Plan a larger eye.", source)


def curvature(draft: Draft) -> Iterator[Check]:
    """How sharply the rope bends over the pin (D/d)."""
    limits, ratio = draft.worked.method.limits, draft.eye.d_over_d if draft.eye else None
    if ratio is not None and limits.pin_over_rope is not None and ratio < limits.pin_over_rope * (1 - ROUNDING):
        message = f"The pin is {ratio:.2f} rope diameters thick; at least {limits.pin_over_rope:g} are asked (D/d)."
        source = draft.worked.method.source_text(limits.pin_over_rope_source)
        yield found("warn", "curvature", message + " Take a thicker pin or a thimble.", source)


def eye_over_rope(draft: Draft) -> Iterator[Check]:
    """The eye's length over the rope's diameter."""
    limits = draft.worked.method.limits
    if limits.eye_over_rope is None or draft.eye is None:
        return
    least = limits.eye_over_rope * draft.worked.inputs.rope.diameter_m
    if draft.eye.inside_length_m < least * (1 - ROUNDING):
        message = f"The eye is shorter than {limits.eye_over_rope:g} rope diameters ({draft.worked.show(least)})."
        source = draft.worked.method.source_text(limits.eye_over_rope_source)
        yield found("warn", "eye-small", message + " A small eye spreads the throat.", source)
