"""Two ropes side by side: the facts that answer which one suits a job."""

from __future__ import annotations

import msgspec

from gearlog.domain.mass import LineMass


class Carried(msgspec.Struct, frozen=True, kw_only=True):
    """What a length of rope weighs (kg); None is unknown."""

    length_m: float
    mass_kg: float | None


class Splicing(msgspec.Struct, frozen=True, kw_only=True):
    """A splice or what is done instead of one, and why."""

    method: str
    title: str
    reason: str


class MadeBefore(msgspec.Struct, frozen=True, kw_only=True):
    """One splice in the diary, in this rope or one like it."""

    rope: str
    method: str
    made_on: str
    outcome: str
    minutes: int | None
    why: tuple[str, ...]


class RopeSide(msgspec.Struct, frozen=True, kw_only=True):
    """One rope of the two (m, N, kg); None and an empty text are unknown.

    Attributes:
        tag: of a rope in the log, or empty.
        load_bearing: the part that carries the load; ``load_words`` says so in a sentence.
        damage_words: what damage to it means.
        carried: its mass at the lengths that are climbed on.
        splices: the splices that suit it; ``instead`` what is done where no eye is spliced.
        elongation_at_n: the load at which the elongation is stated.
        made, good: splices in this rope and in ropes like it, and how many of them came out well.
        last: the last of them.
    """

    name: str
    tag: str = ""
    construction: str
    load_bearing: str
    load_words: str
    damage_words: str
    diameter_m: float | None
    strands: int | None
    fibre: str
    core_fibre: str
    mass: LineMass
    carried: tuple[Carried, ...]
    splices: tuple[Splicing, ...]
    instead: str
    mbs_n: float | None
    elongation_percent: float | None = None
    elongation_at_n: float | None = None
    made: int = 0
    good: int = 0
    last: tuple[MadeBefore, ...] = ()


class RopesCompared(msgspec.Struct, frozen=True, kw_only=True):
    """Both ropes."""

    first: RopeSide
    second: RopeSide
