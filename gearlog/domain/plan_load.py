"""What of a plan carries load: the eye on its pin, and strength along the chain. Plain SI numbers."""

from __future__ import annotations

import msgspec


class ChainLink(msgspec.Struct, frozen=True, kw_only=True):
    """One part that carries the load: what it holds (N) and its share of the rope's strength; None is unknown."""

    name: str
    retained_fraction: float | None
    strength_n: float | None
    design_factor: float
    source: str
    wll_n: float | None = None


class EyeGeometry(msgspec.Struct, frozen=True, kw_only=True):
    """The eye, and how it sits on a pin; None without a pin or where the pin does not fit.

    ``contact_arc_m`` is how much of the loop lies on the pin.
    """

    inside_length_m: float
    circumference_m: float
    pin_m: float | None = None
    half_angle_deg: float | None = None
    leg_tension_ratio: float | None = None
    d_over_d: float | None = None
    contact_arc_m: float | None = None


class Strength(msgspec.Struct, frozen=True, kw_only=True):
    """What the finished end carries: WLL = MBS x condition x retained / design factor; None is unknown."""

    mbs_n: float | None
    retained_fraction: float | None
    retained_source: str | None
    design_factor: float
    design_factor_source: str
    wll_n: float | None
    condition_fraction: float = 1.0
    condition_source: str | None = None
    chain: tuple[ChainLink, ...] = ()
    weakest: str | None = None
