"""What the screens and the verbs are shown of one item's life: frozen, made from records, never stored."""

from __future__ import annotations

from datetime import date

import msgspec

from gearlog.domain.inspection import Finding, Inspection


class FindingRow(msgspec.Struct, frozen=True):
    """A finding and where it lies on the item that is looked at.

    Attributes:
        finding: as it was written down.
        inspection: in which it was.
        from_m: distance from end A now (m); None where it has no place or that cannot be told.
        to_m: as far as; the same as ``from_m`` for a point.
        gone: whether it went with a part that was cut off.
        inherited: whether it was found before the piece was cut from its parent.
        open: whether it keeps the item out of service.
    """

    finding: Finding
    inspection: Inspection
    from_m: float | None
    to_m: float | None
    gone: bool
    inherited: bool
    open: bool


class Entry(msgspec.Struct, frozen=True):
    """One line of an item's story.

    Attributes:
        on: when, as well as it is known (ISO 8601).
        what: what happened, in a word or two.
        words: the rest, in one line.
        source: ``event``, ``inspection`` or ``splice``; ``id`` of that record.
        inherited: whether it happened to its parent before the cut.
        struck: why it was struck out, or empty.
    """

    on: str
    what: str
    words: str
    source: str
    id: str
    inherited: bool = False
    struck: str = ""


class Along(msgspec.Struct, frozen=True):
    """One thing to draw along a rope.

    Attributes:
        what: ``splice``, ``bury``, ``finding`` or ``worn`` (a finding that reaches along the rope).
        from_m: distance of its beginning from end A (m).
        to_m: of its end; the same for a point.
        words: what it is, in words.
        grave: of a finding, its severity; else empty.
    """

    what: str
    from_m: float
    to_m: float
    words: str
    grave: str = ""


class RopeAlong(msgspec.Struct, frozen=True):
    """A rope from end A to end B.

    Attributes:
        length_m: its length now (m).
        end_a: how end A stands, in words.
        end_b: the same of end B.
        marks: what lies along it, from A on.
    """

    length_m: float
    end_a: str
    end_b: str
    marks: tuple[Along, ...]


class DueRow(msgspec.Struct, frozen=True):
    """What is due of one item.

    Attributes:
        tag: the item's.
        due_on: the last day on which it may be done; None is at once.
        state: ``overdue``, ``never-examined``, ``due-soon``, ``in-date`` or ``out-of-service``.
        rule: what sets the date.
        reason: why, in one line.
    """

    tag: str
    due_on: date | None
    state: str
    rule: str
    reason: str
