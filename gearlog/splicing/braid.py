"""Braid geometry: what a braid does when something is drawn into it.

A strand lies on the braid's mean diameter D at the braid angle b to the axis: pitch p = pi D / tan b, strand length per
turn S = pi D / sin b. Strand length is kept; where the mean diameter swells to k D, sin b2 = k sin b, and the braid
shortens to cos b2 / cos b. It jams at k = 1 / sin b. Check value: b = 20 deg, k = sqrt 2 gives 0.9314.
"""

from __future__ import annotations

import math


def pitch_m(mean_diameter_m: float, angle_rad: float) -> float:
    """Length of rope in m over one turn of a strand."""
    return math.pi * mean_diameter_m / math.tan(angle_rad)


def angle_from_pitch(mean_diameter_m: float, turn_m: float) -> float:
    """Braid angle in rad from the rope length ``turn_m`` over one turn of a strand."""
    return math.atan2(math.pi * mean_diameter_m, turn_m)


def swollen_angle(angle_rad: float, swelling: float) -> float | None:
    """Braid angle in rad after the mean diameter grew ``swelling`` times, or None where the braid jams before."""
    sine = swelling * math.sin(angle_rad)
    return math.asin(sine) if sine < 1 else None


def length_ratio(angle_rad: float, swelling: float) -> float:
    """Length after over length before; 0 at the limit where the braid jams."""
    after = swollen_angle(angle_rad, swelling)
    return 0.0 if after is None else math.cos(after) / math.cos(angle_rad)


def swelling_at(fill: float, full_swelling: float) -> float:
    """Growth of the mean diameter where only the part ``fill`` of the full section lies inside (areas add up)."""
    return math.sqrt(1 + fill * (full_swelling**2 - 1))
