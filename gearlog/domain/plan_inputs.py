"""What a plan is worked out from: the rope, the eye or the finished length, the tools, the condition (SI)."""

from __future__ import annotations

import msgspec

from gearlog.domain.vocabulary import Condition, Lay, Unit, Use


class RopeSpec(msgspec.Struct, frozen=True, kw_only=True):
    """The rope as the planner needs it (m, N); None is unknown."""

    construction: str
    diameter_m: float
    strands: int | None = None
    lay: Lay | None = None
    fibre: str = ""
    core_fibre: str = ""
    mbs_n: float | None = None
    length_m: float | None = None
    lay_length_m: float | None = None
    pick_length_m: float | None = None
    name: str = ""


class Tool(msgspec.Struct, frozen=True, kw_only=True):
    """A tool at hand: its name, how far it reaches, how thick it is (m)."""

    name: str
    length_m: float
    thickness_m: float | None = None


class Hardware(msgspec.Struct, frozen=True, kw_only=True):
    """A pin, ring or connector that carries with the rope: its name and breaking strength (N); None is unknown."""

    name: str
    strength_n: float | None = None


class PlanInputs(msgspec.Struct, frozen=True, kw_only=True):
    """Everything a plan was worked out from.

    Attributes:
        method: id of the method.
        rope: the rope.
        eye_m: wanted inside length of the eye, throat to crown, pulled flat; None where the method has no eye.
        pin_m: diameter of the pin that the eye will sit on.
        tools: tools at hand.
        condition: the rope's condition.
        use: people, rigging or accessory.
        design_factor: the user's own, or None for the default of the use.
        unit: how lengths are written in steps and messages.
        tape_parts: parts of an inch on the user's tape, 16 or 32.
        clear_rope_m: rope between this splice and the next one, when known.
        finished_m: wanted finished length, as the method measures it.
        shortest_m: shortest setting of an adjustable sling; ``longest_m`` its longest.
        both_ends: the same eye is made at both ends of the piece, and ``finished_m`` is crown to crown.
        tapered: laid rope: finish with tapered tucks.
        twine_m: diameter of the twine.
        measured_diameter_m: the rope's diameter as measured, where it is used or shrunk.
        braid_angle_deg: measured, or None for the method's default; ``swelling`` likewise.
        eye_correction_m: added to the eye in the loop, learned from the diary and taken on request.
        correction_words: where the correction comes from.
        shortening_correction_m: how much more the rope shortens at each end than reckoned, as the diary tells it;
            ``shortening_words`` where it comes from.
        knots: ids of knots that stay in the line.
        hardware: what the end is clipped to, with its rated strength.
        rope_id: the rope's item in the log, or empty.
        end: the rope's end, or empty.
    """

    method: str
    rope: RopeSpec
    eye_m: float | None = None
    pin_m: float | None = None
    tools: tuple[Tool, ...] = ()
    condition: Condition = Condition.NEW
    use: Use = Use.PEOPLE
    design_factor: float | None = None
    unit: Unit = Unit.METRIC
    tape_parts: int = 16
    clear_rope_m: float | None = None
    finished_m: float | None = None
    shortest_m: float | None = None
    longest_m: float | None = None
    both_ends: bool = False
    tapered: bool = False
    twine_m: float | None = None
    measured_diameter_m: float | None = None
    braid_angle_deg: float | None = None
    swelling: float | None = None
    eye_correction_m: float = 0.0
    correction_words: str = ""
    shortening_correction_m: float = 0.0
    shortening_words: str = ""
    knots: tuple[str, ...] = ()
    hardware: tuple[Hardware, ...] = ()
    rope_id: str = ""
    end: str = ""

    @property
    def marked_eye_m(self) -> float | None:
        """The eye as it was marked out: as asked, with the correction that was taken."""
        return None if self.eye_m is None else self.eye_m + self.eye_correction_m
