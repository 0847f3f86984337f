"""What the screens and the verbs are shown: frozen rows and cards, made from records, never stored."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import msgspec

from gearlog.domain.constructions import Construction
from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.inspection import Inspection
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import EndView
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, Outcome, Status
from gearlog.services.gear_views import Entry, FindingRow
from gearlog.units.measure import Length
from gearlog.upkeep.account import Account
from gearlog.upkeep.due import Due
from gearlog.upkeep.life import LifeEnd
from gearlog.upkeep.schedule import Dated


class GearRow(msgspec.Struct, frozen=True):
    """One item in a list.

    Attributes:
        category: its label.
        due: when it is due and why.
        life_end: when its life ends.
        gaps: particulars that its record should hold and does not, in words.
        search: everything a filter may find, in small letters.
    """

    item: Item
    tag: str
    name: str
    category: str
    status: Status
    due: Due
    life_end: LifeEnd
    gaps: tuple[str, ...]
    search: str


class ListRow(msgspec.Struct, frozen=True):
    """One item in the plain gear list.

    Attributes:
        due_on: the day by which it is due, or None.
        due: its state in words, ``OVERDUE`` for what is.
        reason: why.
    """

    tag: str
    name: str
    category: str
    status: Status
    due_on: date | None
    due: str
    reason: str


class SpliceRow(msgspec.Struct, frozen=True):
    """One splice in the diary, as its newest version tells it.

    Attributes:
        tag: the rope's tag.
        end: ``A``, ``B`` or where between.
        search: everything a filter may find, in small letters.
    """

    splice: Splice
    tag: str
    rope_name: str
    method_title: str
    made_on: PartialDate
    end: str
    outcome: Outcome
    search: str


class Compared(msgspec.Struct, frozen=True):
    """One mark of a splice's plan beside what the tape said.

    Attributes:
        mark: the mark's letter; ``mark_id`` its id.
        name: what the mark is.
        planned_m: where it was planned (m from where the plan's distances begin).
        measured: what was measured, as typed, or None.
        difference_m: measured minus planned (m), or None.
    """

    mark: str
    mark_id: str
    name: str
    planned_m: float
    measured: Length | None
    difference_m: float | None


class Card(msgspec.Struct, frozen=True):
    """All that is known of one item.

    Attributes:
        ends: the state of both ends of a rope, else empty.
        length_now_m: of a rope whose length is known (m), else None.
        events: its history, newest first, struck entries included.
        splices: splices made in it, newest first.
        children: pieces cut from it; ``parent`` what it was cut from.
        construction: of a rope, else None.
        gaps: particulars that a record should hold and this one does not, in words.
        inspections: its inspections, newest first, struck ones included.
        findings: what was found on it and where that lies now.
        story: everything in one line of time, oldest first, its parent's past included.
        account: of a rope, where its length went.
        dates: every day that a rule sets, and what is asked before each use.
        notes: what should be looked into, in words.
        places: of splices between the ends, where they lie now (m from end A), by id; none for what is gone.
        assigned_to: who has it for good; ``loan`` the loan that was not given back.
        on: the past day as of which this is, or None.
        written_later: how many entries of that past were written down after ``on``.
    """

    item: Item
    status: Status
    due: Due
    life_end: LifeEnd
    ends: Mapping[End, EndView]
    length_now_m: float | None
    events: tuple[Event, ...]
    splices: tuple[SpliceRow, ...]
    children: tuple[Item, ...]
    parent: Item | None
    construction: Construction | None
    gaps: tuple[str, ...]
    inspections: tuple[Inspection, ...] = ()
    findings: tuple[FindingRow, ...] = ()
    story: tuple[Entry, ...] = ()
    account: Account | None = None
    dates: tuple[Dated, ...] = ()
    notes: tuple[str, ...] = ()
    places: Mapping[str, float] = {}
    assigned_to: str = ""
    loan: Event | None = None
    on: date | None = None
    written_later: int = 0


class Today(msgspec.Struct, frozen=True):
    """What asks for attention today; each list in the order of urgency.

    Attributes:
        overdue: past their date or never examined, in service.
        due_soon: due within the next days.
        quarantined: waiting for a competent person.
        near_end_of_life: in service, life ending soon or ended.
        last_splices: the newest splices.
        gaps: how many items in service lack a particular, in words, one line each particular.
        undestroyed: retired textile kit whose destruction is not noted.
    """

    overdue: tuple[GearRow, ...]
    due_soon: tuple[GearRow, ...]
    quarantined: tuple[GearRow, ...]
    near_end_of_life: tuple[GearRow, ...]
    last_splices: tuple[SpliceRow, ...]
    gaps: tuple[str, ...]
    undestroyed: tuple[GearRow, ...] = ()
