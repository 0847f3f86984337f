"""Where things lie along a rope after cuts; the expected places are worked out by hand."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from fractions import Fraction

import pytest
from msgspec.structs import replace

from gearlog.domain.counting import counted
from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.history import History, Origin
from gearlog.domain.inspection import Finding, Inspection, InspectionKind, Severity, Verdict
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import open_findings, status_of
from gearlog.domain.order import Moment
from gearlog.domain.places import FoundAt, findings_of
from gearlog.domain.vocabulary import Status
from gearlog.units.measure import Length
from tests.domain.conftest import SAVED

MakeEvent = Callable[..., Event]


def found_at(
    at: str | None, on: str = "2024-05-10", *, until: str | None = None, severity: str = "watch"
) -> Inspection:
    finding = Finding(
        id="f",
        severity=Severity(severity),
        words="seen",
        at=Length.read(at, zero=True) if at else None,
        until=Length.read(until) if until else None,
    )
    return Inspection(
        id="i", created_at=SAVED, changed_at=SAVED, item_id="rope-1", kind=InspectionKind.THOROUGH, inspector="AB",
        inspected_on=PartialDate.read(on), ruled=Verdict.FIT, verdict=Verdict.FIT, findings=(finding,),
    )  # fmt: skip


def where(found: FoundAt) -> tuple[Fraction | None, Fraction | None, bool]:
    assert found.where is not None
    return found.where.start, found.where.stop, found.where.gone is not None


CUT_A = ("A", "5 m", "2024-05-20")
CUT_B = ("B", "5 m", "2024-05-20")  # of 45 m: 40 m are left


@pytest.mark.parametrize(
    ("at", "until", "cuts", "start", "stop", "gone"),
    [
        ("12 m", None, [], 12, 12, False),
        ("12 m", None, [CUT_A], 7, 7, False),  # end A is 5 m nearer
        ("12 m", None, [CUT_A, CUT_A], 2, 2, False),
        ("12 m", None, [CUT_B], 12, 12, False),
        ("3 m", None, [CUT_A], None, None, True),  # in the part that was cut off
        ("5 m", None, [CUT_A], 0, 0, False),  # on the cut itself: on both sides
        ("4 m", "6 m", [CUT_A], 0, 1, False),  # what reaches over the cut is in part still there
        ("41 m", None, [CUT_B], None, None, True),
        ("40 m", None, [CUT_B], 40, 40, False),
        ("39 m", "42 m", [CUT_B], 39, 40, False),
        ("12 m", None, [("A", "5 m", "2024-05-01")], 12, 12, False),  # cut before it was found
        ("12 m", None, [("A", None, "2024-05-20")], None, None, False),  # nobody measured
        ("5 ft", None, [("A", "1 ft", "2024-05-20")], Fraction("1.2192"), Fraction("1.2192"), False),
    ],
)
def test_a_finding_keeps_its_metre(
    rope: Item,
    event: MakeEvent,
    *,
    at: str,
    until: str | None,
    cuts: list[tuple[str, str | None, str]],
    start: Fraction | None,
    stop: Fraction | None,
    gone: bool,
) -> None:
    made = [event("cut", on, cut_end=end, length=Length.read(size) if size else None) for end, size, on in cuts]
    history = History(rope, tuple(made), (found_at(at, until=until),))
    (found,) = findings_of(history)
    assert where(found) == (start, stop, gone)


def piece_of(rope: Item, cut: Event, inspection: Inspection, *more: Event) -> History:
    assert rope.rope is not None
    assert cut.length is not None
    facts = replace(rope.rope, parent_id=rope.id, length_bought=cut.length)
    piece = replace(rope, id="piece", rope=facts)
    parent = History(rope, (cut, *more), (inspection,))
    return History(piece, origin=Origin(parent, Moment(cut.happened_on, cut.created_at, 1 << 62), cut))


@pytest.mark.parametrize(
    ("at", "end", "inherited"),
    [
        ("3 m", "A", [3]),  # the piece is the first 5 m
        ("12 m", "A", []),
        ("41 m", "B", [1]),  # the piece is from 40 to 45 m
        ("12 m", "B", []),
        ("5 m", "A", [5]),
        (None, "A", [None]),  # without a place it may be anywhere
    ],
)
def test_a_piece_takes_over_what_lies_or_may_lie_in_it(
    rope: Item, event: MakeEvent, at: str | None, end: str, inherited: list[int | None]
) -> None:
    cut = event("cut", "2024-05-20", cut_end=end, length=Length.read("5 m"), piece_id="piece")
    history = piece_of(rope, cut, found_at(at, severity="stop"))
    found = [one for one in findings_of(history) if one.where is None or one.where.gone is None]
    assert [one.where.start if one.where else None for one in found] == inherited
    assert all(one.inherited for one in found)
    assert status_of(counted(history)) is Status.QUARANTINED  # also without the finding: the whole rope was stopped
    assert open_findings(counted(history)) == (("f",) if inherited else ())


def test_what_was_found_after_the_cut_is_the_parents_alone(rope: Item, event: MakeEvent) -> None:
    cut = event("cut", "2024-05-20", cut_end="A", length=Length.read("5 m"), piece_id="piece")
    history = piece_of(rope, cut, found_at("3 m", "2024-05-21", severity="stop"))
    assert findings_of(history) == ()
    assert status_of(counted(history)) is Status.IN_SERVICE


@pytest.mark.parametrize(
    ("kind", "on", "status"),
    [
        ("fall-arrested", "2024-05-19", Status.QUARANTINED),
        ("fall-arrested", "2024-05", Status.QUARANTINED),  # it may have been before the cut
        ("fall-arrested", "2024-05-21", Status.IN_SERVICE),
        ("retired", "2024-05-19", Status.RETIRED),
        ("examined", "2024-05-19", Status.IN_SERVICE),
    ],
)
def test_a_piece_keeps_its_parents_past_to_the_day_of_the_cut(
    rope: Item, event: MakeEvent, kind: str, on: str, status: Status
) -> None:
    cut = event("cut", "2024-05-20", cut_end="A", length=Length.read("5 m"), piece_id="piece")
    happened = replace(event(kind, on), created_at=SAVED - timedelta(days=1))
    history = piece_of(rope, cut, found_at("3 m"), happened)
    assert status_of(counted(history)) is status
    assert not any(one.kind == "examined" for one in counted(history))  # the parent's does not stand in for its own
