"""The closed lists of words that records use. The value is what the file holds, the label is for people."""

from __future__ import annotations

from enum import StrEnum
from functools import cache


class Category(StrEnum):
    """What kind of thing an item is."""

    LIFELINE = "lifeline"
    LANYARD = "lanyard"
    HITCH_CORD = "hitch-cord"
    SLING = "sling"
    RIGGING_LINE = "rigging-line"
    CONNECTOR = "connector"
    PULLEY = "pulley"
    RING_OR_SWIVEL = "ring-or-swivel"
    ASCENDER_OR_DESCENDER = "ascender-or-descender"
    FRICTION_DEVICE = "friction-device"
    HARNESS = "harness"
    HELMET = "helmet"
    OTHER = "other"


ROPE_CATEGORIES = frozenset(
    {Category.LIFELINE, Category.LANYARD, Category.HITCH_CORD, Category.SLING, Category.RIGGING_LINE}
)
"""Categories whose items may be made of rope; the form offers the rope's fields for them."""


class Use(StrEnum):
    """What an item is used for."""

    PEOPLE = "people"
    RIGGING = "rigging"
    ACCESSORY = "accessory"


class Came(StrEnum):
    """In what state an item was bought; what came used has a past that the log does not know."""

    NEW = "new"
    USED = "used"


class Gate(StrEnum):
    """How a connector's gate is kept shut."""

    SELF_CLOSING = "self-closing"
    SCREW = "screw"
    TWO_WAY = "two-way"
    THREE_WAY = "three-way"
    QUICK_LINK = "quick-link"


class Status(StrEnum):
    """Where an item stands; derived from its history, never typed over it."""

    IN_SERVICE = "in-service"
    QUARANTINED = "quarantined"
    RETIRED = "retired"
    DESTROYED = "destroyed"
    LOST = "lost"


class EventKind(StrEnum):
    """What happened to an item."""

    EXAMINED = "examined"
    CHECKED = "checked"
    CUT = "cut"
    WASHED = "washed"
    ASSIGNED = "assigned"
    LOANED = "loaned"
    RETURNED = "returned"
    DROPPED = "dropped"
    FALL_ARRESTED = "fall-arrested"
    SHOCK_LOADED = "shock-loaded"
    CHEMICAL_CONTACT = "chemical-contact"
    QUARANTINED = "quarantined"
    RELEASED = "released"
    RETIRED = "retired"
    DESTROYED = "destroyed"
    LOST = "lost"
    FOUND = "found"
    OTHER = "other"


class Lay(StrEnum):
    """How firmly a hollow braid is made: whether its hollow can be opened."""

    LOOSE = "loose"
    TIGHT = "tight"


class Condition(StrEnum):
    """The rope's condition when it is spliced."""

    NEW = "new"
    USED = "used"
    WASHED = "washed"
    WET = "wet"


class Outcome(StrEnum):
    """How a splice came out."""

    GOOD = "good"
    REMARK = "usable-with-remark"
    REMADE = "remade"
    FAILED = "failed"
    CUT_OFF = "cut-off"
    GIVEN_UP = "given-up"


class Finish(StrEnum):
    """How a splice was finished."""

    WHIPPING = "whipping"
    LOCK_STITCH = "lock-stitch"
    SEIZING = "seizing"
    TAPE = "tape"


class Difficulty(StrEnum):
    """What made the work hard; the list that the record offers, own words come beside it."""

    STIFF_ROPE = "stiff rope"
    TIGHT_BRAID = "tight braid"
    SLIPPERY_FIBRE = "slippery fibre"
    TOOL_TOO_SHORT = "tool too short"
    TOOL_TOO_THICK = "tool too thick"
    TAIL_STUCK = "tail stuck"
    STRAND_PULLED = "strand pulled out"
    CORE_HARD_TO_DRAW = "core hard to draw"
    CROSSOVER_BULKY = "crossover bulky"
    EYE_OFF_SIZE = "eye off its size"
    UNEVEN_TAPER = "uneven taper"
    WOULD_NOT_MILK = "would not milk down"


class End(StrEnum):
    """Which end of a rope; a position along it is given beside."""

    A = "A"
    B = "B"
    BETWEEN = "between"


class EndState(StrEnum):
    """How an end of a rope is finished now."""

    BARE = "bare"
    WHIPPED = "whipped"
    KNOTTED = "knotted"
    SEWN = "sewn"
    SPLICED = "spliced"


class Unit(StrEnum):
    """Which tape measure the user owns."""

    METRIC = "metric"
    IMPERIAL = "imperial"


@cache
def label(word: StrEnum) -> str:
    """The word as people read it: hyphens become spaces."""
    return word.replace("-", " ")
