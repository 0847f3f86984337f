"""The eye: its loop, and how it sits on a round pin.

For a loop of inside circumference C on a pin of radius r, with x from the pin's centre to the throat and h the half
angle there: sin h = r / x and C = 2 sqrt(x^2 - r^2) + r (pi + 2 h). The tension in each leg over the load is
1 / (2 cos h). Worked from plane geometry; check value: eye = 3 D gives h = 13.407 deg and 0.51401.
"""

from __future__ import annotations

import math

from gearlog.domain.plan import EyeGeometry

HALVINGS = 200  # more than a double has bits between any two of its values of interest


def loop_length(x_m: float, radius_m: float) -> float:
    """Inside circumference in m of a loop whose throat lies ``x_m`` from the centre of a pin of ``radius_m``."""
    half = math.asin(min(1.0, radius_m / x_m))
    return 2 * math.sqrt(max(0.0, x_m**2 - radius_m**2)) + contact_arc(radius_m, half)


def throat_distance(loop_m: float, pin_m: float) -> float | None:
    """Distance in m from the pin's centre to the throat, or None where the pin does not fit into the loop."""
    radius = pin_m / 2
    if loop_m < 2 * math.pi * radius:
        return None
    low, high = radius, max(radius, loop_m / 2)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if loop_length(middle, radius) < loop_m:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def contact_arc(radius_m: float, half_angle_rad: float) -> float:
    """How much of the loop in m lies on a pin of ``radius_m``."""
    return radius_m * (math.pi + 2 * half_angle_rad)


def leg_tension_ratio(half_angle_rad: float) -> float:
    """Tension in each leg over the load."""
    return 1 / (2 * math.cos(half_angle_rad))


def eye_geometry(eye_m: float, diameter_m: float, pin_m: float | None) -> EyeGeometry:
    """The eye of inside length ``eye_m`` in rope of ``diameter_m``, on a pin when one is given (all m)."""
    bare = EyeGeometry(inside_length_m=eye_m, circumference_m=2 * eye_m, pin_m=pin_m)
    if pin_m is None:
        return bare
    ratio = pin_m / diameter_m
    x = throat_distance(2 * eye_m, pin_m)
    if x is None:
        return EyeGeometry(inside_length_m=eye_m, circumference_m=2 * eye_m, pin_m=pin_m, d_over_d=ratio)
    half = math.asin(min(1.0, pin_m / 2 / x))
    fits = half < math.pi / 2  # at 90 deg the loop has no legs, and their tension no bound
    return EyeGeometry(
        inside_length_m=eye_m,
        circumference_m=2 * eye_m,
        pin_m=pin_m,
        half_angle_deg=math.degrees(half),
        leg_tension_ratio=leg_tension_ratio(half) if fits else None,
        d_over_d=ratio,
        contact_arc_m=contact_arc(pin_m / 2, half),
    )
