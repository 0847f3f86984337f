"""What an audit shows: items, examinations and splices as frozen lines of text, made by services, set by reports.

A particular that is not on record has an empty text. Reports write ``MISSING`` for what a standard asks for and say
``not on record`` for the rest; nothing is left blank in silence.
"""

from __future__ import annotations

from datetime import date

import msgspec

from gearlog.domain.vocabulary import Status


class Particular(msgspec.Struct, frozen=True):
    """One thing that a record may hold.

    Attributes:
        id: for programs.
        label: for people.
        text: what the record holds, or empty.
        asked: whether the standards ask for it, so that an empty one is a gap.
    """

    id: str
    label: str
    text: str
    asked: bool = False


class Examined(msgspec.Struct, frozen=True, kw_only=True):
    """One examination or check of one item.

    Attributes:
        on: when, as well as it is known.
        reason: why it was made, such as ``thorough`` or ``after event``.
        by: who examined, or empty; ``competence`` why they are competent, or empty.
        result: the verdict, or empty where the entry names none.
        findings: what was seen, each with its gravity and place; empty is none.
        told: whether the entry has a place for findings, so that none means none.
        next_due: the latest date of the next as it was set, or empty.
        remarks: own words.
    """

    tag: str
    name: str
    on: str
    reason: str
    by: str
    competence: str
    result: str
    findings: tuple[str, ...]
    told: bool
    next_due: str
    remarks: str


class Happened(msgspec.Struct, frozen=True):
    """One line of an item's history.

    Attributes:
        on: when, as well as it is known.
        what: what happened.
        by: who did or saw it, or empty.
        words: particulars and remarks.
        struck: why the entry was struck out, or empty while it stands.
    """

    on: str
    what: str
    by: str
    words: str
    struck: str


class Spliced(msgspec.Struct, frozen=True, kw_only=True):
    """One splice.

    Attributes:
        end: ``A``, ``B`` or where between.
        made_by: who made it, or empty; ``checked_by`` who checked it, or empty.
        outcome: how it came out.
        stands: where it is now: at its end, or why not.
        finished: what was measured of it when it was done.
        tests: its tests of strength, a line each; empty is none.
        gaps: what its record should hold and does not, in words.
    """

    tag: str
    rope: str
    end: str
    method: str
    made_on: str
    made_by: str
    checked_by: str
    outcome: str
    stands: str
    finished: str
    tests: tuple[str, ...]
    gaps: tuple[str, ...]


class AuditItem(msgspec.Struct, frozen=True, kw_only=True):
    """One item with all that an audit tells of it.

    Attributes:
        line: its line of the register, one text for each of the audit's headings.
        status: where it stands on the day of the audit.
        due: its state in words; ``due_on`` the day, or None; ``due_reason`` why.
        overdue: whether it is in service and past its date or never examined.
        particulars: in the order in which a record is read.
        examinations: the newest first.
        history: the newest first, struck entries included.
        splices: the newest first.
        gaps: what the record should hold and does not, in words.
        left_on: the day, as well as it is known, on which it went out of use for good or was lost; else empty.
        left_how: what happened then.
    """

    id: str
    tag: str
    name: str
    category: str
    used_for: str
    line: tuple[str, ...]
    status: Status
    due: str
    due_on: date | None
    due_reason: str
    overdue: bool
    particulars: tuple[Particular, ...]
    examinations: tuple[Examined, ...]
    history: tuple[Happened, ...]
    splices: tuple[Spliced, ...]
    gaps: tuple[str, ...]
    left_on: str = ""
    left_how: str = ""

    def text(self, particular: str) -> str:
        """The text of one particular; empty when it is not on record or not among this item's."""
        return next((one.text for one in self.particulars if one.id == particular), "")


class Audit(msgspec.Struct, frozen=True, kw_only=True):
    """An audit as of one day.

    Attributes:
        on: the day as of which everything is told.
        since: what left use after this day is told.
        chosen: which items are listed, in words.
        made_on: the day on which the list was made.
        headings: the headings of the register's lines.
        items: in the order of their tags.
        retired: those of the items that left use between ``since`` and ``on``.
        gaps: how many items lack each particular: (what, how many), the most frequent first.
        late: entries that tell of days up to ``on`` and were written down after it.
        digest: SHA-256 of the listed records in their canonical form, 64 hexadecimal digits.
        records: that canonical form, a line each.
    """

    on: date
    since: date
    chosen: str
    made_on: date
    headings: tuple[str, ...]
    items: tuple[AuditItem, ...]
    retired: tuple[AuditItem, ...]
    gaps: tuple[tuple[str, int], ...]
    late: int
    digest: str
    records: tuple[str, ...]

    @property
    def overdue(self) -> tuple[AuditItem, ...]:
        """What is in service and past its date, or never examined."""
        return tuple(item for item in self.items if item.overdue)

    @property
    def quarantined(self) -> tuple[AuditItem, ...]:
        """What waits for a competent person."""
        return tuple(item for item in self.items if item.status is Status.QUARANTINED)

    @property
    def with_gaps(self) -> tuple[AuditItem, ...]:
        """What lacks a particular, unless it is out of use for good."""
        return tuple(item for item in self.items if item.gaps and item.status not in OUT_OF_USE)

    @property
    def examinations(self) -> tuple[Examined, ...]:
        """Every examination of every item, item by item."""
        return tuple(one for item in self.items for one in item.examinations)

    @property
    def splices(self) -> tuple[Spliced, ...]:
        """Every splice of every item, item by item."""
        return tuple(one for item in self.items for one in item.splices)


OUT_OF_USE = frozenset({Status.RETIRED, Status.DESTROYED, Status.LOST})
"""What nobody uses any more: gaps in its record need not be filled."""
