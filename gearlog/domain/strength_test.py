"""A test of a splice's strength: loaded to a proof load, or until something broke."""

from __future__ import annotations

from enum import StrEnum

from gearlog.domain.dates import PartialDate
from gearlog.domain.record import Record
from gearlog.units.measure import Force, Length


class LoadKind(StrEnum):
    """How far it was loaded."""

    BREAK = "break"
    PROOF = "proof"


class FailedAt(StrEnum):
    """Where it failed."""

    NOWHERE = "nowhere"
    THROAT = "throat"
    CROWN = "crown-of-the-eye"
    BURY = "in-the-bury"
    BURY_END = "end-of-the-bury"
    TUCKS = "in-the-tucks"
    PULLED_OUT = "pulled-out"
    CLEAR_ROPE = "clear-rope"
    OTHER = "other"


class StrengthTest(Record, frozen=True, kw_only=True):
    """One test of one splice.

    Attributes:
        splice_id: the splice that was loaded.
        kind: proof load or break.
        force: of a break the highest force reached, of a proof load the force it was held at.
        pin: diameter of the pin that the eye sat on.
        failed_at: where it failed; nowhere for what held.
        place: where the test was made.
        machine: what loaded it.
        tested_on: when.
        tested_by: who.
        struck_because: why the entry counts no more; empty while it stands.
    """

    splice_id: str
    kind: LoadKind
    force: Force
    pin: Length | None = None
    failed_at: FailedAt = FailedAt.NOWHERE
    place: str = ""
    machine: str = ""
    tested_on: PartialDate
    tested_by: str = ""
    struck_because: str = ""
